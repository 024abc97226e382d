/**
 * The few words that the page itself says; everything else is worded by the program (assets/languages/).
 */
export const words = {
  ok: 'OK',
  cancel: 'Cancel',
  noGraphics: 'This browser cannot draw Tawny: it lacks WebGL 2 or WebAssembly. Open it in a newer browser.',
  noProgram: 'Tawny did not load. Go where there is a network once, then try again.',
  stopped: 'Tawny stopped. What it showed as saved is saved.',
  again: 'Try again',
  takeOut: 'Take the logbook out as a file',
  empty: 'There is no entry in the logbook of this browser.',
  unreadable: 'The logbook of this browser cannot be read: {detail}',
  tooLarge: 'This file is larger than 64 MB. It is not a logbook.',
};
