/**
 * The page's own ground: dark when the app was dark when last seen, so that nothing flashes white before sunrise.
 * A plain script, run before the first paint.
 */
(() => {
  let night = null;
  try {
    night = localStorage.getItem('tawny.night');
  } catch {
    // Then the system's own wish decides.
  }
  const dark = night === null ? matchMedia('(prefers-color-scheme: dark)').matches : night === 'yes';
  document.documentElement.classList.toggle('night', dark);
})();
