/**
 * The screen under the canvas: its size and density, the parts that a notch or a home bar covers, a lost drawing
 * context, and whether the person wants things to keep still.
 */

/** A browser that gives a lost drawing context back does so within moments of the page being seen. */
const kContextPatienceMs = 4000;

/**
 * @param {HTMLCanvasElement} canvas
 * @param {{insets: (top: number, right: number, bottom: number, left: number) => void,
 *          context: (lost: number) => void, reducedMotion: (reduced: number) => void, wake: () => void,
 *          withoutPicture: (gone: boolean) => void}} program `withoutPicture`: the context did not come back in time
 */
export function watchScreen(canvas, program) {
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let patience;
  let lost = false;
  const awaitContext = () => {
    clearTimeout(patience);
    if (lost && document.visibilityState === 'visible') {
      patience = setTimeout(() => program.withoutPicture(true), kContextPatienceMs);
    }
  };
  canvas.addEventListener('webglcontextlost', (event) => {
    event.preventDefault();
    lost = true;
    program.context(1);
    awaitContext();
  });
  canvas.addEventListener('webglcontextrestored', () => {
    lost = false;
    clearTimeout(patience);
    program.withoutPicture(false);
    program.context(0);
  });

  const probe = /** @type {HTMLElement} */ (document.getElementById('insets'));
  const tellInsets = () => {
    const {paddingTop, paddingRight, paddingBottom, paddingLeft} = getComputedStyle(probe);
    program.insets(
      parseFloat(paddingTop) || 0,
      parseFloat(paddingRight) || 0,
      parseFloat(paddingBottom) || 0,
      parseFloat(paddingLeft) || 0,
    );
  };
  addEventListener('resize', tellInsets);
  tellInsets();

  // SDL listens to the window's "resize" only.
  const tellSdl = () => dispatchEvent(new Event('resize'));
  visualViewport?.addEventListener('resize', tellSdl);
  const watchDensity = () =>
    matchMedia(`(resolution: ${devicePixelRatio}dppx)`).addEventListener(
      'change',
      () => {
        tellSdl();
        watchDensity();
      },
      {once: true},
    );
  watchDensity();

  const stillness = matchMedia('(prefers-reduced-motion: reduce)');
  const tellStillness = () => program.reducedMotion(stillness.matches ? 1 : 0);
  stillness.addEventListener('change', tellStillness);
  tellStillness();

  // A page that comes back may find its canvas emptied, and its clock has moved on.
  document.addEventListener('visibilitychange', () => {
    awaitContext();
    if (document.visibilityState === 'visible') program.wake();
  });
  addEventListener('pageshow', () => program.wake());
}
