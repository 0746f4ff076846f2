// Runs beside Levare inside the editor and asks the editor what it knows: exact columns, which
// the page does not show. It waits for the file `go`, works through the expectations, and writes
// the file `seen`. The folder for both and the card to open are in LEVARE_PROBE (see vscode.mjs).

const vscode = require('vscode');
const fs = require('node:fs');
const path = require('node:path');

const severities = ['error', 'warning', 'information', 'hint'];
const pause = (ms) => new Promise((done) => setTimeout(done, ms));

/** Waits until `condition` holds, at most 20 s, and tells whether it does. */
async function wait(condition) {
  for (let i = 0; i < 200; i++) {
    if (await condition()) return true;
    await pause(100);
  }
  return false;
}

/** The editor counts UTF-16 units from 0; people count characters from 1. */
function column(document, position) {
  return [...document.lineAt(position.line).text.slice(0, position.character)].length + 1;
}

function place(document, at) {
  const before = [...document.lineAt(at.line - 1).text].slice(0, at.column - 1).join('');
  return new vscode.Position(at.line - 1, before.length);
}

function marks(document) {
  return vscode.languages
    .getDiagnostics(document.uri)
    .map((d) => ({
      line: d.range.start.line + 1,
      from: column(document, d.range.start),
      to_line: d.range.end.line + 1,
      to: column(document, d.range.end),
      severity: severities[d.severity],
      code: typeof d.code === 'object' ? d.code.value : d.code,
      source: d.source,
      message: d.message,
    }))
    .sort((a, b) => a.line - b.line || a.from - b.from);
}

const words = (contents) => contents.map((part) => part.value ?? part).join('\n');
const lines = (document) => document.getText().split(/\r?\n/);

async function look({ file, want }) {
  const document = await vscode.workspace.openTextDocument(vscode.Uri.file(file));
  await vscode.window.showTextDocument(document);
  const ask = (command, ...rest) => vscode.commands.executeCommand(command, document.uri, ...rest);
  const seen = { editor: vscode.version, language: document.languageId };
  const levare = vscode.extensions.getExtension('levare.levare');
  seen.active = Boolean(levare && levare.isActive);

  const count = () => vscode.languages.getDiagnostics(document.uri).length;
  await wait(() => want.marks.length > 0 && count() >= want.marks.length);
  seen.marks = marks(document);

  if (want.hover) {
    const found = await ask('vscode.executeHoverProvider', place(document, want.hover));
    seen.hover = words(found.flatMap((hover) => hover.contents));
  }
  if (want.suggest) {
    const found = await ask('vscode.executeCompletionItemProvider', place(document, want.suggest));
    seen.suggest = found.items.map((item) => item.label.label ?? item.label);
  }
  if (want.fix) {
    const at = place(document, want.fix);
    const found = await ask('vscode.executeCodeActionProvider', new vscode.Range(at, at), undefined, 50);
    seen.offered = found.map((action) => action.title);
    const fix = found.find((action) => action.title === want.fix.title);
    const before = document.version;
    if (fix?.edit) await vscode.workspace.applyEdit(fix.edit);
    if (fix?.command) await vscode.commands.executeCommand(fix.command.command, ...(fix.command.arguments ?? []));
    if (fix) await wait(() => document.version !== before);
    seen.after_fix = lines(document);
    if (want.fix.marks) {
      await wait(() => count() === want.fix.marks.length);
      seen.marks_after_fix = marks(document);
    }
  }
  if (want.recopy) {
    const edits = await ask('vscode.executeFormatDocumentProvider', { tabSize: 2, insertSpaces: true });
    const change = new vscode.WorkspaceEdit();
    change.set(document.uri, edits ?? []);
    await vscode.workspace.applyEdit(change);
    seen.after_recopy = lines(document);
  }
  await document.save();
  return seen;
}

exports.activate = async () => {
  if (!process.env.LEVARE_PROBE) return;
  const work = JSON.parse(process.env.LEVARE_PROBE);
  const go = path.join(work.folder, 'go');
  while (!fs.existsSync(go)) await pause(100);
  let seen;
  try {
    seen = await look(work);
  } catch (error) {
    seen = { problem: String(error?.stack ?? error) };
  }
  const whole = path.join(work.folder, 'seen.part');
  fs.writeFileSync(whole, JSON.stringify(seen));
  fs.renameSync(whole, path.join(work.folder, 'seen'));
};
