// What a director does with the mouse before and after the words are written: choosing the folder,
// having the first files written, getting a card with its first lines, making the page for the door.

const path = require('node:path');
const { execFile } = require('node:child_process');
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
    title: 'The folder that holds your catalog',
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
      'A card needs a folder to be in. Choose the folder that holds your catalog, then write the card.',
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

/** Runs `program` with `words`; gives its exit status (2 when it did not run) and all that it said. */
function run(program, words) {
  return new Promise((resolve) => {
    execFile(program, words, { windowsHide: true }, (error, stdout, stderr) => {
      const status = error ? (typeof error.code === 'number' ? error.code : 2) : 0;
      resolve({ status, said: (stderr || stdout || error?.message || '').trim() });
    });
  });
}

/** The folder that is open; without one it is asked for, and the window opens anew with it. */
async function openFolder() {
  const folder = vscode.workspace.workspaceFolders?.[0]?.uri;
  if (folder) return folder;
  const choose = 'Choose the Folder';
  const picked = await vscode.window.showInformationMessage(
    'Cards need a folder to be in. Choose the folder for your catalog, then do this again.',
    choose,
  );
  if (picked === choose) await openCatalogue();
  return undefined;
}

/** Has the first files written where there is no catalogue yet, and opens one of them at its end. */
async function start(program, name = 'band.levare') {
  const folder = await openFolder();
  if (!folder) return;
  let root = await withHandbook(folder);
  if (!root) {
    const { status, said } = await run(program, ['start', folder.fsPath]);
    if (status !== 0) return void vscode.window.showErrorMessage(said);
    root = folder;
  }
  const uri = vscode.Uri.joinPath(root, name);
  if (!(await exists(uri))) {
    const kind = Object.keys(CARDS).find((kind) => CARDS[kind].file === name);
    return void (await newCard(kind));
  }
  const document = await vscode.workspace.openTextDocument(uri);
  const editor = await vscode.window.showTextDocument(document, { preview: false });
  const end = document.positionAt(document.getText().trimEnd().length);
  editor.selection = new vscode.Selection(end, end);
  editor.revealRange(new vscode.Range(end, end));
}

/** Writes the page for the door of a piece or a concert beside the cards, and offers to open it. */
async function door(program, name) {
  const folder = await openFolder();
  if (!folder) return;
  const root = (await withHandbook(folder)) ?? folder;
  const asked = name ?? (await vscode.window.showInputBox({ prompt: 'Which concert or piece is the page for?' }));
  if (!asked) return;
  await vscode.workspace.saveAll(false);
  const page = path.join(root.fsPath, 'door.html');
  const { status, said } = await run(program, ['assign', asked, '--in', root.fsPath, '--as', 'door', '--to', page]);
  if (status > 1) return void vscode.window.showErrorMessage(said);
  const open = 'Open It';
  const picked = await vscode.window.showInformationMessage(`The page for the door is in your folder: ${page}`, open);
  if (picked === open) await vscode.env.openExternal(vscode.Uri.file(page));
}

module.exports = { door, newCard, openCatalogue, start };
