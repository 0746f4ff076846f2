// The first five minutes, brought to the front. The editor by itself does nothing when it is asked
// for a walkthrough whose tab is open behind another one.

const vscode = require('vscode');

const STEPS = 'levare.levare#firstFiveMinutes';
const TITLE = 'Levare: your first five minutes';

/** The tabs that show it; the editor names them by its title, with a word of its own before it. */
function open() {
  return vscode.window.tabGroups.all.flatMap((group) => group.tabs).filter((tab) => tab.label.includes(TITLE));
}

/** What was checked off is kept by the editor, so that closing the old tab loses nothing. */
async function firstSteps() {
  await vscode.window.tabGroups.close(open());
  await vscode.commands.executeCommand('workbench.action.openWalkthrough', STEPS, false);
}

module.exports = { firstSteps };
