// A page that the editor had open before it read what extensions ask for keeps the editor's own
// width of a step, and a new line would stand too deep. Each page is given the right one once.

const vscode = require('vscode');

/** How far fields stand from the margin, and rows from their field. */
const STEP = 2;

const seen = new WeakSet();

function given(editor) {
  const { document } = editor;
  if (document.languageId !== 'levare' || seen.has(document)) return;
  seen.add(document);
  const settings = vscode.workspace.getConfiguration('editor', { uri: document.uri, languageId: 'levare' });
  const chosen = settings.inspect('tabSize') ?? {};
  // What somebody chose for these pages in the settings stays.
  const step =
    chosen.workspaceFolderLanguageValue ?? chosen.workspaceLanguageValue ?? chosen.globalLanguageValue ?? STEP;
  editor.options = { tabSize: step, indentSize: 'tabSize', insertSpaces: true };
}

/** Looks after every page that is shown from now on. */
function depth() {
  vscode.window.visibleTextEditors.forEach(given);
  return vscode.window.onDidChangeVisibleTextEditors((editors) => editors.forEach(given));
}

module.exports = { depth };
