// Compares what an editor showed with what was expected of it. Gives a list of differences,
// each { what, expected, got }; an empty list means that everything was as expected.

function sameMarks(what, expected, got, wrong) {
  if (got === undefined || expected.length !== got.length) {
    wrong.push({ what: `${what}: how many`, expected: expected.length, got: got?.length });
    return;
  }
  expected.forEach((e, i) => {
    const g = got[i];
    const name = `${what} ${i + 1}`;
    for (const key of ['line', 'from', 'to', 'severity', 'code']) {
      if (e[key] !== undefined && e[key] !== g[key]) wrong.push({ what: `${name}: ${key}`, expected: e[key], got: g[key] });
    }
    const last = e.to_line ?? e.line;
    if (last !== g.to_line) wrong.push({ what: `${name}: to_line`, expected: last, got: g.to_line });
    for (const words of e.says ?? []) {
      if (!g.message.includes(words)) wrong.push({ what: `${name}: says`, expected: words, got: g.message });
    }
  });
}

function sameLines(what, expected, got, wrong) {
  for (const [number, text] of Object.entries(expected ?? {})) {
    const line = got?.[Number(number) - 1];
    if (line !== text) wrong.push({ what: `${what}: line ${number}`, expected: text, got: line });
  }
}

function holds(what, expected, got, wrong) {
  for (const words of expected) {
    if (!got?.includes(words)) wrong.push({ what, expected: words, got });
  }
}

export function compare(want, seen) {
  const wrong = [];
  if (seen.language !== 'levare') wrong.push({ what: 'language', expected: 'levare', got: seen.language });
  if (!seen.active) wrong.push({ what: 'extension', expected: 'awake', got: 'asleep' });
  sameMarks('mark', want.marks, seen.marks, wrong);
  if (want.hover) holds('hover', want.hover.holds, seen.hover, wrong);
  if (want.suggest) holds('suggest', want.suggest.holds, seen.suggest, wrong);
  if (want.fix) {
    if (!seen.offered?.includes(want.fix.title)) wrong.push({ what: 'fix', expected: want.fix.title, got: seen.offered });
    sameLines('fix', want.fix.lines, seen.after_fix, wrong);
    if (want.fix.marks) sameMarks('mark after the fix', want.fix.marks, seen.marks_after_fix, wrong);
  }
  if (want.recopy) sameLines('recopy', want.recopy.lines, seen.after_recopy, wrong);
  if (seen.problem) wrong.push({ what: 'driver', expected: 'no error', got: seen.problem });
  return wrong;
}
