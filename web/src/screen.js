/**
 * The screen under the canvas: its size and density, the parts that a notch or a home bar covers, a lost drawing
 * context, and whether the person wants things to keep still.
 */

/**
 * @param {HTMLCanvasElement} canvas
 * @param {{insets: (top: number, right: number, bottom: number, left: number) => void,
 *          context: (lost: number) => void, reducedMotion: (reduced: number) => void, wake: () => void}} program
 */
export function watchScreen(canvas, program) {
  canvas.addEventListener('webglcontextlost', (event) => {
    event.preventDefault();
    program.context(1);
  });
  canvas.addEventListener('webglcontextrestored', () => program.context(0));

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
    if (document.visibilityState === 'visible') program.wake();
  });
  addEventListener('pageshow', () => program.wake());
}
