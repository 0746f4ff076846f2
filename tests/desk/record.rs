//! A record of a session: every message as it was sent, a line each, for `tests/protocol/check` to hold
//! against the protocol. It is kept when `LEVARE_RECORD` names a folder.

use std::fs::File;
use std::io::Write;
use std::path::Path;
use std::sync::atomic::{AtomicU32, Ordering};
use std::sync::{Arc, Mutex};

use serde_json::{Value, json};

/// Where one session is written down, if anywhere.
#[derive(Clone)]
pub struct Record(Option<Arc<Mutex<File>>>);

impl Record {
    /// A new record, named after the running test.
    pub fn begin() -> Record {
        static NUMBER: AtomicU32 = AtomicU32::new(0);
        let Some(folder) = std::env::var_os("LEVARE_RECORD").filter(|folder| !folder.is_empty()) else {
            return Record(None);
        };
        let number = NUMBER.fetch_add(1, Ordering::Relaxed);
        let name = format!("{}-{number}.jsonl", std::process::id());
        std::fs::create_dir_all(&folder).unwrap();
        let file = File::create(Path::new(&folder).join(name)).unwrap();
        let record = Record(Some(Arc::new(Mutex::new(file))));
        let test = std::thread::current().name().unwrap_or_default().to_owned();
        record.line(&json!({"test": test}));
        record
    }

    /// Writes down what the `client` or the `server` sent.
    pub fn note(&self, from: &str, message: &Value) {
        if self.0.is_some() {
            self.line(&json!({"from": from, "message": message}));
        }
    }

    /// Writes down that the client wrote bytes of its own: answers to messages among them are rightly given.
    pub fn bytes(&self) {
        if self.0.is_some() {
            self.line(&json!({"bytes": "client"}));
        }
    }

    fn line(&self, line: &Value) {
        if let Some(file) = &self.0 {
            // One write a line, so that a session that is cut short leaves whole lines.
            let line = format!("{line}\n");
            file.lock().unwrap().write_all(line.as_bytes()).unwrap();
        }
    }
}
