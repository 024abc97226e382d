/**
 * A farm's bucket on Ceph's gateway: users, policy and CORS rules as web/office/s3.md shows them.
 */
import assert from 'node:assert/strict';
import {signed, queryOf} from '../../web/src/carriers/sigv4.js';
import {ask, snippet} from './servers.mjs';

export const region = 'default';
export const bucket = 'tawny';
export const keys = {
  owner: {keyId: 'OWNERKEY', secret: 'owner-secret/+=1'},
  ana: {keyId: 'ANAKEY', secret: 'ana-secret/+=2'},
  ben: {keyId: 'BENKEY', secret: 'ben-secret/+=3'},
};

/**
 * A request of the bucket's owner, or of another user, without a browser.
 * @param {import('./ceph.mjs').Ceph} ceph @param {string} method @param {string} path
 */
export async function own(ceph, method, path, {query = {}, body = '', by = 'owner'} = {}) {
  const host = `127.0.0.1:${ceph.port}`;
  const headers = await signed({method, host, path, query, body}, {...keys[by], region}, Date.now());
  const answer = await ask(`${ceph.origin}${path}?${queryOf(query)}`, {method, headers, body});
  assert.ok(answer.status < 300, `${method} ${path}: ${answer.status} ${answer.text}`);
  return answer;
}

/** The rules as the store takes them, from the form in which people write them. */
function corsXml({CORSRules}, origin) {
  const element = (tag, values) => values.map((value) => `<${tag}>${value}</${tag}>`).join('');
  const rules = CORSRules.map(
    ({AllowedMethods, AllowedHeaders, MaxAgeSeconds}) =>
      element('AllowedOrigin', [origin]) +
      element('AllowedMethod', AllowedMethods) +
      element('AllowedHeader', AllowedHeaders) +
      element('MaxAgeSeconds', [MaxAgeSeconds]),
  );
  return `<CORSConfiguration>${element('CORSRule', rules)}</CORSConfiguration>`;
}

/** @param {import('./ceph.mjs').Ceph} ceph @param {string} origin of the app, which may read the store's answers */
export async function makeBucket(ceph, origin) {
  for (const [user, {keyId, secret}] of Object.entries(keys)) await ceph.addUser(user, keyId, secret);
  await own(ceph, 'PUT', `/${bucket}`);
  await own(ceph, 'PUT', `/${bucket}`, {query: {policy: ''}, body: await snippet('s3.md', 'json policy')});
  const cors = corsXml(JSON.parse(await snippet('s3.md', 'json cors')), origin);
  await own(ceph, 'PUT', `/${bucket}`, {query: {cors: ''}, body: cors});
}

/**
 * What a phone is told of it.
 * @param {string} user @param {string} address @param {Record<string, string>} [more]
 */
export const bucketSettings = (user, address, more = {}) => ({
  kind: 's3',
  address,
  writer: user,
  region,
  bucket,
  style: 'path',
  key_id: keys[user].keyId,
  secret: keys[user].secret,
  prefix: '',
  ...more,
});
