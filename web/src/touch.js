/**
 * What touches need that SDL does not do: a touch that the system takes away must press nothing, and the browser's
 * own gestures stay off the canvas.
 *
 * @param {() => void} onCancel told before SDL hears of the touch's end
 */
export function watchTouches(onCancel) {
  addEventListener('touchcancel', onCancel, {capture: true});
  // iOS zooms by pinching in spite of the viewport's settings.
  addEventListener('gesturestart', (event) => event.preventDefault());
}
