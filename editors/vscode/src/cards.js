// The two things a director does with the mouse before the first word is written: choosing the
// folder, and getting a card with its first lines to fill in.

const vscode = require('vscode');

/**
 * The cards that can be asked for: what the list calls them, their file, their first lines. Only
 * the card's own name stands in them: a number left as it was would be a false fact about
 * somebody's band, and a name that has no card would be marked before the first word is typed.
 */
const CARDS = {
  ensemble: {
    label: 'A band',
    file: 'band.levare',
    lines: [
      'ensemble "${1:Seventh Grade Band}"',
      '  players',
      '    flute           ${2}',
      '    clarinet        ${3}',
      '    alto sax        ${4}',
      '    trumpet         ${5}',
      '    trombone        ${6}',
      '    tuba            ${7}',
      '  percussionists',
      '    P1              ${8}',
      '    P2              ${9}',
      '    P3              ${10}',
      '$0',
    ],
  },
  piece: {
    label: 'A piece',
    file: 'pieces.levare',
    lines: [
      'piece "${1:Title}"',
      '  by              ${2}',
      '  grade           ${3}',
      '  key signature   ${4}',
      '  needs           ${5}',
      '  asks            ${6}',
      '$0',
    ],
  },
  concert: {
    label: 'A concert',
    file: 'concerts.levare',
    lines: [
      'concert "${1:Winter evening}"',
      '  on              ${2}',
      '  for             ${3}',
      '  length          ${4}',
      '  program',
      '    ${5}',
      '$0',
    ],
  },
};

/** The folder's own card, without which a folder is not a catalogue, and what it says at first. */
const HANDBOOK = 'handbook.levare';
const FIRST_LINES = 'handbook\n  notation        1\n';

async function openCatalogue() {
  const picked = await vscode.window.showOpenDialog({
    canSelectFiles: false,
    canSelectFolders: true,
    title: 'The folder that holds your catalogue',
    openLabel: 'Use This Folder',
  });
  if (picked?.length) await vscode.commands.executeCommand('vscode.openFolder', picked[0]);
}

async function exists(uri) {
  try {
    await vscode.workspace.fs.stat(uri);
    return true;
  } catch {
    return false;
  }
}

/** The folder with a handbook: `folder` itself, else one right inside it, else none. */
async function withHandbook(folder) {
  if (await exists(vscode.Uri.joinPath(folder, HANDBOOK))) return folder;
  for (const [name, type] of await vscode.workspace.fs.readDirectory(folder)) {
    if (!(type & vscode.FileType.Directory)) continue;
    const inner = vscode.Uri.joinPath(folder, name);
    if (await exists(vscode.Uri.joinPath(inner, HANDBOOK))) return inner;
  }
  return undefined;
}

/** The catalogue's folder: where its handbook is, else the one that is open, with a new handbook. */
async function catalogue() {
  const folders = (vscode.workspace.workspaceFolders ?? []).map((folder) => folder.uri);
  if (folders.length === 0) return undefined;
  for (const folder of folders) {
    const found = await withHandbook(folder);
    if (found) return found;
  }
  const handbook = vscode.Uri.joinPath(folders[0], HANDBOOK);
  await vscode.workspace.fs.writeFile(handbook, new TextEncoder().encode(FIRST_LINES));
  return folders[0];
}

async function whichCard(kind) {
  if (CARDS[kind]) return CARDS[kind];
  const items = Object.values(CARDS).map((card) => ({ label: card.label, description: card.file, card }));
  const picked = await vscode.window.showQuickPick(items, { placeHolder: 'What is the card for?' });
  return picked?.card;
}

/** Puts the first lines of a card at the end of its file, the cursor at the first thing to fill in. */
async function newCard(kind) {
  const card = await whichCard(kind);
  if (!card) return;
  const root = await catalogue();
  if (!root) {
    const choose = 'Choose the Folder';
    const picked = await vscode.window.showInformationMessage(
      'A card needs a folder to lie in. Choose the folder that holds your catalogue, then write the card.',
      choose,
    );
    if (picked === choose) await openCatalogue();
    return;
  }
  const uri = vscode.Uri.joinPath(root, card.file);
  if (!(await exists(uri))) await vscode.workspace.fs.writeFile(uri, new Uint8Array());
  const editor = await vscode.window.showTextDocument(await vscode.workspace.openTextDocument(uri));
  const end = editor.document.lineAt(editor.document.lineCount - 1).range.end;
  const before = editor.document.getText().trimEnd() === '' ? '' : end.character > 0 ? '\n\n' : '\n';
  await editor.insertSnippet(new vscode.SnippetString(before + card.lines.join('\n')), end);
}

module.exports = { newCard, openCatalogue };
