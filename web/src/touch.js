/**
 * What fingers, pens and mice do on the canvas, told to the program contact by contact (wasm-shell/ui/fingers.h):
 * SDL knows the first finger only, and a drop of water can be that one.
 */

/** As ui::Contact::Event and ui::PointerKind count. */
const kEvents = /** @type {Record<string, number>} */ ({
  pointerdown: 0,
  pointermove: 1,
  pointerup: 2,
  pointercancel: 3,
  pointerleave: 3,
});
const kKinds = /** @type {Record<string, number>} */ ({touch: 0, pen: 1, mouse: 2});

/** Notches of a wheel in each of its units: pixels, lines, pages. */
const notchesOf = (/** @type {WheelEvent} */ {deltaY, deltaMode}) =>
  -deltaY * [1 / 100, 1 / 3, innerHeight / 100][deltaMode];

/**
 * @param {HTMLCanvasElement} canvas
 * @param {{touch: (event: number, kind: number, id: number, x: number, y: number, size: number, time: number) => number,
 *          letAllGo: () => void, wheel: (x: number, y: number, notches: number, zooms: number) => void}} program
 * @param {(from: {x: number, y: number}, to: {x: number, y: number}) => void} onTap called while the browser still
 *   counts what it runs as the person's own doing, so that a text field may be focused and raise the keyboard
 */
export function watchTouches(canvas, program, onTap) {
  /** Where each contact came down. @type {Map<number, {x: number, y: number}>} */
  const came = new Map();
  /** A tap that has just ended. @type {{from: {x: number, y: number}, to: {x: number, y: number}} | undefined} */
  let tap;

  /** @param {PointerEvent} event */
  const tell = (event) => {
    const {type, pointerType, pointerId, clientX: x, clientY: y} = event;
    const mouse = pointerType === 'mouse';
    if (mouse && event.button > 0) return;
    const isDown = type === 'pointerdown' || came.has(pointerId);
    if (type === 'pointerdown') {
      came.set(pointerId, {x, y});
      canvas.setPointerCapture?.(pointerId);
    }
    // A pen that hovers is nowhere yet; a mouse that hovers is.
    if (!mouse && !isDown) return;
    // While it is held, a mouse leaves nothing.
    if (type === 'pointerleave' && (!mouse || isDown)) return;
    const size = Math.max(event.width, event.height);
    const tapped = program.touch(kEvents[type], kKinds[pointerType] ?? 0, pointerId, x, y, size, event.timeStamp / 1000);
    if (type === 'pointermove') return;
    const from = came.get(pointerId);
    if (type !== 'pointerdown') came.delete(pointerId);
    tap = tapped && from ? {from, to: {x, y}} : undefined;
  };
  for (const type of Object.keys(kEvents)) {
    canvas.addEventListener(type, (event) => tell(/** @type {PointerEvent} */ (event)));
  }

  const endTap = () => {
    const ended = tap;
    tap = undefined;
    if (ended) onTap(ended.from, ended.to);
  };
  // A phone raises its keyboard out of the end of a touch, which follows the pointer's; a mouse has a click after every
  // handler that could take the focus away again. Without the default of a touch there is no second, pretended mouse.
  canvas.addEventListener('touchstart', (event) => event.preventDefault(), {passive: false});
  canvas.addEventListener('touchend', (event) => {
    if (event.cancelable) event.preventDefault();
    endTap();
  });
  canvas.addEventListener('click', endTap);

  canvas.addEventListener(
    'wheel',
    (event) => {
      event.preventDefault();
      program.wheel(event.clientX, event.clientY, notchesOf(event), event.ctrlKey ? 1 : 0);
    },
    {passive: false},
  );
  // Events of a hidden page are lost, the end of a touch among them.
  const letAllGo = () => {
    came.clear();
    program.letAllGo();
  };
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'hidden') letAllGo();
  });
  addEventListener('blur', letAllGo);
  // iOS zooms by pinching in spite of the viewport's settings, and marks text under a finger that rests.
  addEventListener('gesturestart', (event) => event.preventDefault());
  canvas.addEventListener('contextmenu', (event) => event.preventDefault());
}
