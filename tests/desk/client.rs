//! A small editor: it keeps a folder of cards, talks to the real program, and reads everything it says.
//!
//! When it goes, everything must have been read and nothing must have panicked, or the test fails. So it does
//! when the program sends what this client said it cannot take.

#![allow(dead_code, reason = "several tests share it, and not each uses all of it")]

use std::collections::{BTreeMap, VecDeque};
use std::io::{BufRead, BufReader, Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use serde_json::{Value, json};
use tempfile::TempDir;

#[path = "fits.rs"]
pub mod fits;
#[path = "record.rs"]
mod record;

use record::Record;

/// Far longer than anything here takes; only what is stuck waits for it.
pub const STUCK: Duration = Duration::from_secs(60);

/// A folder of cards that goes with the test.
pub struct Folder(TempDir);

impl Folder {
    /// A folder with these files.
    pub fn with(files: &[(&str, &str)]) -> Folder {
        let folder = Folder(tempfile::tempdir().unwrap());
        for (name, text) in files {
            folder.write(name, text);
        }
        folder
    }

    pub fn path(&self, name: &str) -> PathBuf {
        let root = std::fs::canonicalize(self.0.path()).unwrap();
        if name.is_empty() { root } else { root.join(name) }
    }

    pub fn uri(&self, name: &str) -> String {
        url::Url::from_file_path(self.path(name)).unwrap().to_string()
    }

    pub fn write(&self, name: &str, text: &str) {
        let path = self.path(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, text).unwrap();
    }
}

/// How a client is set up.
pub struct Setup {
    folders: Vec<String>,
    capabilities: Value,
    checks: bool,
    process: Option<u32>,
    /// Parameters of `initialize` that are put in the place of the usual ones.
    instead: Value,
}

impl Setup {
    /// A client that opens these folders, tells of changed files itself, and counts in UTF-16.
    pub fn new(folders: &[&Path]) -> Setup {
        let folders = folders
            .iter()
            .map(|path| url::Url::from_file_path(path).unwrap().to_string())
            .collect();
        Setup {
            folders,
            capabilities: json!({
                "workspace": {
                    "didChangeWatchedFiles": {"dynamicRegistration": true},
                    "workspaceEdit": {"documentChanges": true},
                    "diagnostics": {"refreshSupport": true},
                },
                "textDocument": {
                    "hover": {"contentFormat": ["markdown"]},
                    "documentSymbol": {"hierarchicalDocumentSymbolSupport": true},
                    "codeAction": {"codeActionLiteralSupport": {"codeActionKind": {"valueSet": []}}},
                    "publishDiagnostics": {"relatedInformation": true, "tagSupport": {"valueSet": [1]}},
                },
            }),
            checks: true,
            process: None,
            instead: json!({}),
        }
    }

    /// It can do exactly this.
    pub fn exactly(mut self, capabilities: Value) -> Setup {
        self.capabilities = capabilities;
        self
    }

    /// It begins with these parameters in the place of the usual ones.
    pub fn instead(mut self, parameters: Value) -> Setup {
        self.instead = parameters;
        self
    }

    pub fn unit(mut self, unit: &str) -> Setup {
        self.capabilities["general"] = json!({"positionEncodings": [unit]});
        self
    }

    pub fn pulls(mut self) -> Setup {
        self.capabilities["textDocument"]["diagnostic"] = json!({"relatedDocumentSupport": false});
        self
    }

    /// It cannot watch files, so the program has to.
    pub fn blind(mut self) -> Setup {
        self.capabilities["workspace"]["didChangeWatchedFiles"] = Value::Null;
        self
    }

    /// It can do more: what is given is put into its capabilities.
    pub fn can(mut self, more: Value) -> Setup {
        merge(&mut self.capabilities, more);
        self
    }

    pub fn with(mut self, pointer: &str, value: Value) -> Setup {
        *self.capabilities.pointer_mut(pointer).expect("a capability") = value;
        self
    }

    pub fn unchecked(mut self) -> Setup {
        self.checks = false;
        self
    }

    pub fn process(mut self, process: u32) -> Setup {
        self.process = Some(process);
        self
    }

    pub fn start(self) -> Client {
        let mut process = Command::new(env!("CARGO_BIN_EXE_levare"))
            .arg("desk")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("the program starts");
        let to = process.stdin.take();
        let mut from = BufReader::new(process.stdout.take().unwrap());
        let mut errors = process.stderr.take().unwrap();
        let record = Record::begin();
        let recording = record.clone();
        let (send, receive) = channel();
        std::thread::spawn(move || {
            while let Some(message) = read(&mut from) {
                recording.note("server", &message);
                if send.send(message).is_err() {
                    return;
                }
            }
        });
        let said = Arc::new(Mutex::new(String::new()));
        let saying = Arc::clone(&said);
        let listener = std::thread::spawn(move || {
            let mut text = String::new();
            let _ = errors.read_to_string(&mut text);
            saying.lock().unwrap().push_str(&text);
        });
        let mut client = Client {
            process,
            to,
            receive,
            next: 1,
            unread: VecDeque::new(),
            answers: BTreeMap::new(),
            told: BTreeMap::new(),
            asked: Vec::new(),
            asks: Vec::new(),
            replies: BTreeMap::new(),
            versions: BTreeMap::new(),
            said,
            listener: Some(listener),
            stumbles: false,
            over: false,
            capabilities: Value::Null,
            can: self.capabilities.clone(),
            methods: BTreeMap::new(),
            record,
        };
        let folders: Vec<Value> = self
            .folders
            .iter()
            .map(|uri| json!({"uri": uri, "name": "cards"}))
            .collect();
        let mut parameters = json!({
            "processId": self.process,
            "rootUri": null,
            "capabilities": self.capabilities,
            "workspaceFolders": folders,
            "initializationOptions": {"checks": self.checks},
        });
        for (name, value) in self.instead.as_object().into_iter().flatten() {
            parameters[name] = value.clone();
        }
        let answer = client.ask("initialize", parameters);
        client.capabilities = answer["capabilities"].clone();
        client.note("initialized", json!({}));
        client
    }
}

fn merge(into: &mut Value, more: Value) {
    match more {
        Value::Object(fields) if into.is_object() => {
            for (name, value) in fields {
                merge(&mut into[name], value);
            }
        }
        other => *into = other,
    }
}

/// What was told of one file.
#[derive(Default)]
struct Told {
    diagnostics: Vec<Value>,
    version: Option<i64>,
    times: usize,
    is_read: bool,
}

/// The client's end.
pub struct Client {
    process: Child,
    to: Option<ChildStdin>,
    receive: Receiver<Value>,
    next: i64,
    /// Messages that somebody has to read.
    unread: VecDeque<Value>,
    answers: BTreeMap<i64, Value>,
    told: BTreeMap<String, Told>,
    /// The methods that the program has asked of us.
    pub asked: Vec<String>,
    /// The same with what it asked.
    pub asks: Vec<(String, Value)>,
    /// What is answered to the program's requests; nothing to those not named here.
    pub replies: BTreeMap<String, Value>,
    versions: BTreeMap<String, i64>,
    said: Arc<Mutex<String>>,
    listener: Option<std::thread::JoinHandle<()>>,
    stumbles: bool,
    over: bool,
    pub capabilities: Value,
    /// What this client said it can do.
    can: Value,
    /// The methods of the requests that wait for an answer.
    methods: BTreeMap<i64, String>,
    record: Record,
}

fn read(from: &mut impl BufRead) -> Option<Value> {
    let mut length = 0;
    loop {
        let mut line = String::new();
        if from.read_line(&mut line).ok()? == 0 {
            return None;
        }
        let line = line.trim_end();
        if line.is_empty() {
            break;
        }
        if let Some(number) = line.strip_prefix("Content-Length: ") {
            length = number.parse().expect("a length");
        }
    }
    let mut body = vec![0; length];
    from.read_exact(&mut body).ok()?;
    Some(serde_json::from_slice(&body).expect("JSON"))
}

impl Client {
    /// Writes bytes as they are. Whole messages may be among them, which the record cannot tell.
    pub fn raw(&mut self, bytes: &[u8]) {
        self.record.bytes();
        self.write(bytes);
    }

    fn write(&mut self, bytes: &[u8]) {
        let to = self.to.as_mut().expect("open");
        // A program that has gone is noticed where its answer is waited for.
        let _ = to.write_all(bytes).and_then(|()| to.flush());
    }

    pub fn send(&mut self, message: &Value) {
        self.record.note("client", message);
        let body = message.to_string();
        self.write(format!("Content-Length: {}\r\n\r\n{body}", body.len()).as_bytes());
    }

    pub fn note(&mut self, method: &str, params: Value) {
        self.send(&json!({"jsonrpc": "2.0", "method": method, "params": params}));
    }

    /// Asks and does not wait.
    pub fn begin(&mut self, method: &str, params: Value) -> i64 {
        let id = self.next;
        self.next += 1;
        self.methods.insert(id, method.to_owned());
        self.send(&json!({"jsonrpc": "2.0", "id": id, "method": method, "params": params}));
        id
    }

    /// The whole answer to a request.
    pub fn answer(&mut self, id: i64) -> Value {
        let start = Instant::now();
        loop {
            if let Some(answer) = self.answers.remove(&id) {
                return answer;
            }
            assert!(
                start.elapsed() < STUCK,
                "request {id} is not answered; unread: {:?}",
                self.unread
            );
            self.receive();
        }
    }

    /// Whether an answer has come; takes in what has come until now.
    pub fn is_answered(&mut self, id: i64) -> bool {
        while let Ok(message) = self.receive.try_recv() {
            self.take(message);
        }
        self.answers.contains_key(&id)
    }

    /// Asks, waits, and gives the result.
    pub fn ask(&mut self, method: &str, params: Value) -> Value {
        let id = self.begin(method, params);
        let answer = self.answer(id);
        assert!(answer.get("error").is_none(), "{method}: {answer}");
        answer["result"].clone()
    }

    /// Takes in one message, or nothing for a while.
    fn receive(&mut self) {
        match self.receive.recv_timeout(Duration::from_millis(200)) {
            Ok(message) => self.take(message),
            Err(RecvTimeoutError::Timeout) => {}
            Err(RecvTimeoutError::Disconnected) => panic!("the program has gone"),
        }
    }

    fn take(&mut self, message: Value) {
        let method = message["method"].as_str().map(str::to_owned);
        let (about, content) = match &method {
            Some(method) => (Some(method.clone()), &message["params"]),
            None => {
                let asked = message["id"].as_i64().and_then(|id| self.methods.remove(&id));
                (asked, &message["result"])
            }
        };
        if let Some(about) = about.filter(|_| message.get("error").is_none()) {
            let faults = fits::faults(&self.can, &about, content);
            assert!(faults.is_empty(), "{}\n{message}", faults.join("\n"));
        }
        match (method.as_deref(), message.get("id")) {
            (None, Some(id)) => {
                // Answers to rubbish bear no number.
                match id.as_i64() {
                    Some(id) => {
                        let twice = self.answers.insert(id, message);
                        assert!(twice.is_none(), "answered twice: {twice:?}");
                    }
                    None => self.unread.push_back(message),
                }
            }
            (Some(method), Some(id)) => {
                self.asked.push(method.to_owned());
                self.asks.push((method.to_owned(), message["params"].clone()));
                let id = id.clone();
                let reply = self.replies.get(method).cloned().unwrap_or_default();
                self.send(&json!({"jsonrpc": "2.0", "id": id, "result": reply}));
            }
            (Some("textDocument/publishDiagnostics"), None) => {
                let params = &message["params"];
                let uri = params["uri"].as_str().unwrap().to_owned();
                let told = self.told.entry(uri).or_default();
                told.diagnostics = params["diagnostics"].as_array().unwrap().clone();
                told.version = params["version"].as_i64();
                told.times += 1;
                told.is_read = false;
            }
            _ => self.unread.push_back(message),
        }
    }

    /// Waits until all that was found has been told, and has arrived.
    pub fn settle(&mut self) {
        self.ask("levare/settled", json!({}));
        // An answer may overtake the last message that was no answer.
        self.ask("levare/wait", json!({"ms": 30}));
    }

    /// What is told of a file, after all is told.
    pub fn told(&mut self, uri: &str) -> Vec<Value> {
        self.settle();
        let told = self.told.entry(uri.to_owned()).or_default();
        told.is_read = true;
        told.diagnostics.clone()
    }

    /// The phrases told of a file.
    pub fn phrases(&mut self, uri: &str) -> Vec<String> {
        let code = |found: &Value| found["code"].as_str().unwrap_or_default().to_owned();
        self.told(uri).iter().map(code).collect()
    }

    /// For which version a file was told of last.
    pub fn told_version(&mut self, uri: &str) -> Option<i64> {
        self.told.get(uri).and_then(|told| told.version)
    }

    /// How often a file was told of.
    pub fn times(&self, uri: &str) -> usize {
        self.told.get(uri).map_or(0, |told| told.times)
    }

    /// Waits until what is told of a file is as wanted.
    pub fn until(&mut self, uri: &str, wanted: impl Fn(&[Value]) -> bool) {
        let start = Instant::now();
        loop {
            let told = self.told(uri);
            if wanted(&told) {
                return;
            }
            assert!(start.elapsed() < STUCK, "still told of {uri}: {told:?}");
            std::thread::sleep(Duration::from_millis(20));
        }
    }

    /// Waits until the program has asked something of us so often.
    pub fn until_asked(&mut self, method: &str, times: usize) {
        let start = Instant::now();
        while self.asked.iter().filter(|asked| *asked == method).count() < times {
            assert!(start.elapsed() < STUCK, "{method} is not asked: {:?}", self.asked);
            self.receive();
        }
    }

    /// What was last asked of us by that name.
    pub fn last_asked(&self, method: &str) -> Value {
        let found = self.asks.iter().rev().find(|(asked, _)| asked == method);
        found.map(|(_, params)| params.clone()).unwrap_or_default()
    }

    /// What was told under a token so far, and has now been read.
    pub fn progress(&mut self, token: &str) -> Vec<Value> {
        self.progress_where(|message| message["params"]["token"] == token)
    }

    /// The same under any token.
    pub fn progress_of_all(&mut self) -> Vec<Value> {
        self.progress_where(|_| true)
    }

    fn progress_where(&mut self, wanted: impl Fn(&Value) -> bool) -> Vec<Value> {
        let is_it = |message: &Value| message["method"] == "$/progress" && wanted(message);
        let (found, rest) = std::mem::take(&mut self.unread)
            .into_iter()
            .partition::<Vec<_>, _>(is_it);
        self.unread = rest.into();
        let value = |message: Value| message["params"]["value"].clone();
        found.into_iter().map(value).collect()
    }

    /// The next message that was not asked for.
    pub fn message(&mut self) -> Value {
        let start = Instant::now();
        loop {
            if let Some(message) = self.unread.pop_front() {
                return message;
            }
            assert!(start.elapsed() < STUCK, "no message comes");
            self.receive();
        }
    }

    /// A line in the log that holds these words.
    pub fn log(&mut self, words: &str) {
        let message = self.message();
        let text = message["params"]["message"].as_str().unwrap_or_default();
        assert!(text.contains(words), "{message}");
    }

    /// This test makes the program panic on purpose.
    pub fn stumbles(&mut self) {
        self.stumbles = true;
    }

    pub fn open(&mut self, uri: &str, text: &str) {
        let version = self.versions.entry(uri.to_owned()).or_insert(0);
        *version += 1;
        let version = *version;
        self.note(
            "textDocument/didOpen",
            json!({"textDocument": {"uri": uri, "languageId": "levare", "version": version, "text": text}}),
        );
    }

    /// Changes an open file; each change is a range and a text, or a text alone.
    pub fn change(&mut self, uri: &str, changes: Value) {
        let version = self.versions.entry(uri.to_owned()).or_insert(0);
        *version += 1;
        let version = *version;
        self.note(
            "textDocument/didChange",
            json!({"textDocument": {"uri": uri, "version": version}, "contentChanges": changes}),
        );
    }

    pub fn save(&mut self, uri: &str) {
        self.note("textDocument/didSave", json!({"textDocument": {"uri": uri}}));
    }

    pub fn close(&mut self, uri: &str) {
        self.note("textDocument/didClose", json!({"textDocument": {"uri": uri}}));
    }

    /// Says that files changed on the disk; 1 new, 2 changed, 3 gone.
    pub fn changed_on_disk(&mut self, changes: &[(&str, u8)]) {
        let changes: Vec<Value> = changes
            .iter()
            .map(|(uri, kind)| json!({"uri": uri, "type": kind}))
            .collect();
        self.note("workspace/didChangeWatchedFiles", json!({"changes": changes}));
    }

    /// What the program holds of a file.
    pub fn text(&mut self, uri: &str) -> String {
        let held = self.ask("levare/text", json!({"uri": uri}));
        held["text"].as_str().expect("a text").to_owned()
    }

    /// Asks about a place in a document.
    pub fn at(&mut self, method: &str, uri: &str, position: &Value) -> Value {
        self.ask(
            method,
            json!({
                "textDocument": {"uri": uri},
                "position": position,
                "context": {"includeDeclaration": true, "triggerKind": 1, "isRetrigger": false},
            }),
        )
    }

    /// The exit status of the program, which has a reason to end.
    pub fn status(&mut self) -> Option<i32> {
        self.over = true;
        let start = Instant::now();
        loop {
            if let Some(status) = self.process.try_wait().unwrap() {
                return status.code();
            }
            assert!(start.elapsed() < STUCK, "the program does not end");
            std::thread::sleep(Duration::from_millis(5));
        }
    }

    /// The memory that the program holds, in kB, where the system tells (Linux, proc_pid_status(5), `VmRSS`).
    pub fn memory(&self) -> Option<u64> {
        let status = std::fs::read_to_string(format!("/proc/{}/status", self.process.id())).ok()?;
        let line = status.lines().find_map(|line| line.strip_prefix("VmRSS:"))?;
        line.trim().trim_end_matches(" kB").parse().ok()
    }

    /// Reads everything that has come, whatever it is, and gives the messages.
    pub fn read_all(&mut self) -> Vec<Value> {
        self.told.values_mut().for_each(|told| told.is_read = true);
        self.unread.drain(..).collect()
    }

    /// How many requests wait for an answer.
    pub fn waiting(&self) -> usize {
        self.methods.len()
    }

    /// Closes the program's input.
    pub fn hang_up(&mut self) {
        self.to = None;
    }

    /// What is left unread; for the check of this client itself.
    pub fn left(&mut self) -> Vec<String> {
        let mut left: Vec<String> = self.unread.iter().map(Value::to_string).collect();
        for (uri, told) in &self.told {
            if !told.is_read {
                left.push(format!("told of {uri}: {:?}", told.diagnostics));
            }
        }
        left
    }

    fn end(&mut self) {
        if self.over {
            return;
        }
        self.settle();
        let left = self.left();
        self.ask("shutdown", Value::Null);
        self.note("exit", Value::Null);
        assert_eq!(self.status(), Some(0), "the end was not orderly");
        if let Some(listener) = self.listener.take() {
            let _ = listener.join();
        }
        let said = self.said.lock().unwrap().clone();
        assert!(self.stumbles || said.is_empty(), "it said: {said}");
        assert!(left.is_empty(), "left unread:\n{}", left.join("\n"));
    }
}

impl Drop for Client {
    fn drop(&mut self) {
        if !std::thread::panicking() {
            self.end();
        }
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
}
