/**
 * A file that another app shares to this one (Web Share Target): the service worker takes it and puts it aside, the
 * page that opens then fetches it. It stays on this device throughout.
 */

export const kSharePath = 'share';
/** More than any logbook; what is larger is not put aside either. */
export const kMostBytes = 64 * 1024 * 1024;
export const kTooLarge = 'too_large';
const kCache = 'tawny-shared';
const kFileName = 'X-File-Name';
const kMark = 'shared';

/** In the service worker. @param {Request} request @param {string} scope @returns {Promise<Response>} */
export async function putShared(request, scope) {
  try {
    const file = (await request.formData()).get('file');
    if (file instanceof File && file.size > kMostBytes) {
      return Response.redirect(`${scope}?${kMark}=${kTooLarge}`, 303);
    }
    if (file instanceof File) {
      const headers = {[kFileName]: encodeURIComponent(file.name)};
      await (await caches.open(kCache)).put(new URL(kSharePath, scope), new Response(file, {headers}));
    }
  } catch {
    // Nothing was shared that could be read: the app opens all the same.
  }
  return Response.redirect(`${scope}?${kMark}`, 303);
}

/** In the page, once. @returns {Promise<File | typeof kTooLarge | undefined>} */
export async function takeShared() {
  const here = new URL(location.href);
  if (!here.searchParams.has(kMark)) return undefined;
  history.replaceState(null, '', here.pathname);
  if (here.searchParams.get(kMark) === kTooLarge) return kTooLarge;
  try {
    const cache = await caches.open(kCache);
    const at = new URL(kSharePath, here.origin + here.pathname);
    const kept = await cache.match(at);
    if (!kept) return undefined;
    await cache.delete(at);
    return new File([await kept.blob()], decodeURIComponent(kept.headers.get(kFileName) ?? 'file.txt'));
  } catch {
    return undefined;
  }
}
