// Between the catalogue's lines and columns, and the editor's offsets.

/** The offset of [line, column]; moved to the nearest that exists. */
export function offset(doc, [line, column]) {
  if (line >= doc.lines) return doc.length;
  const at = doc.line(line + 1);
  return Math.min(at.from + column, at.to);
}

/** [line, column] of an offset. */
export function place(doc, offset) {
  const line = doc.lineAt(offset);
  return [line.number - 1, offset - line.from];
}

/** { from, to } of [line, column, line, column]. */
export function span(doc, [fromLine, from, toLine, to]) {
  const start = offset(doc, [fromLine, from]);
  return { from: start, to: Math.max(start, offset(doc, [toLine, to])) };
}

/** [line, column, line, column] of two offsets. */
export function range(doc, from, to) {
  return [...place(doc, from), ...place(doc, to)];
}

/** The editor's changes of the catalogue's edits. */
export function changes(doc, edits) {
  return edits.map((edit) => ({ ...span(doc, edit.at), insert: edit.text.replace(/\r\n?/g, '\n') }));
}

/** The catalogue's edits of the editor's changes, to be made one after another: the last of the text first. */
export function edits(before, changed, ending) {
  const all = [];
  changed.iterChanges((from, to, _from, _to, inserted) => {
    all.push({ at: range(before, from, to), text: inserted.toString().replace(/\n/g, ending) });
  }, true);
  return all.reverse();
}
