// A table as tawny writes it (RFC 4180): a list of rows, each an object by column. The apostrophe that keeps
// spreadsheets from running a text is taken away again.
export function read_csv(text) {
  const rows = [];
  let row = [];
  let at = text.startsWith('\ufeff') ? 1 : 0;
  while (at < text.length) {
    let cell = '';
    if (text[at] === '"') {
      for (at += 1; ; at += 1) {
        if (text[at] === '"' && text[at + 1] !== '"') break;
        if (text[at] === '"') at += 1;
        cell += text[at];
      }
      at += 1;
    } else {
      const end = /[,\r]/g;
      end.lastIndex = at;
      const stop = end.exec(text)?.index ?? text.length;
      cell = text.slice(at, stop);
      at = stop;
    }
    row.push(cell.startsWith("'") ? cell.slice(1) : cell);
    if (text[at] === ',') {
      at += 1;
      continue;
    }
    at += 2;
    rows.push(row);
    row = [];
  }
  const [head, ...rest] = rows;
  return rest.map((cells) => Object.fromEntries(head.map((name, i) => [name, cells[i]])));
}
