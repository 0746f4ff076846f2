//! Noticing what other programs do to the catalogue: by the client's eyes when it has any, else by our own.

use std::path::Path;
use std::sync::{Arc, Weak};

use serde_json::json;
use tower_lsp::gen_lsp_types::Registration;

use crate::catalogue::known;
use crate::disk::{self, DiskProblem, Rules, Watch};

use super::session::Session;

/// What the client is asked to watch: cards, ignore files, known findings, and anything that goes, since a folder takes
/// its files along without naming them (Language Server Protocol 3.17, `FileSystemWatcher`; 4 is `Delete`).
pub(super) fn registration() -> Registration {
    Registration {
        id: "levare-files".to_owned(),
        method: "workspace/didChangeWatchedFiles".to_owned(),
        register_options: Some(json!({"watchers": [
            {"globPattern": "**/*.levare"},
            {"globPattern": "**/.gitignore"},
            {"globPattern": "**/.ignore"},
            {"globPattern": format!("**/{}", known::FILE)},
            {"globPattern": "**/*", "kind": 4},
        ]})),
    }
}

/// What the client is asked to tell of its settings.
pub(super) fn settings() -> Registration {
    Registration {
        id: "levare-settings".to_owned(),
        method: "workspace/didChangeConfiguration".to_owned(),
        register_options: Some(json!({ "section": super::settings::SECTION })),
    }
}

/// Watches a catalogue's folder with our own eyes.
pub(super) fn watch(session: &Arc<Session>, root: &Path) -> Result<Watch, DiskProblem> {
    let session: Weak<Session> = Arc::downgrade(session);
    disk::watch(
        root,
        Rules::of(root, crate::catalogue::largest_file),
        move |changes| {
            let Some(session) = session.upgrade() else { return };
            let paths = changes.changed.into_iter().chain(changes.removed).collect();
            let runtime = session.runtime().clone();
            runtime.spawn(async move {
                match changes.which {
                    true => session.settle().await,
                    false => session.on_disk(paths).await,
                }
            });
        },
    )
}
