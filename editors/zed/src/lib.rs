//! Tells Zed how to call the proofreader in: the program on the path, or the one named in the settings.

use zed_extension_api::{self as zed, LanguageServerId, Result, settings::LspSettings};

struct Levare;

impl zed::Extension for Levare {
    fn new() -> Self {
        Levare
    }

    fn language_server_command(
        &mut self,
        _server: &LanguageServerId,
        worktree: &zed::Worktree,
    ) -> Result<zed::Command> {
        let chosen = LspSettings::for_worktree("levare", worktree)
            .ok()
            .and_then(|settings| settings.binary)
            .and_then(|binary| binary.path);
        let command = chosen
            .or_else(|| worktree.which("levare"))
            .ok_or("There is no levare program on your path. Install it, then open this folder again.")?;
        Ok(zed::Command {
            command,
            args: vec!["desk".to_owned()],
            env: Vec::new(),
        })
    }
}

zed::register_extension!(Levare);
