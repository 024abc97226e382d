/** @returns {Promise<string[] | undefined>} the names of this origin's databases; nothing from a browser that cannot say */
export async function databaseNames() {
  try {
    return (await indexedDB.databases()).map(({name}) => name ?? '');
  } catch {
    return undefined;
  }
}
