//! A small language server whose handlers misbehave on request.

use std::sync::{Arc, Mutex};
use std::time::Duration;

use serde_json::{Value, json};
use tower_lsp::gen_lsp_types::{InitializeParams, InitializeResult, MessageType};
use tower_lsp::jsonrpc::Result;
use tower_lsp::{Client, ClientSocket, LanguageServer, LspService};

/// What the handlers share with the test.
#[derive(Clone, Default)]
pub(crate) struct Seen {
    /// The numbers of the `test/note` notifications, in the order in which they took effect.
    pub(crate) notes: Arc<Mutex<Vec<i64>>>,
    /// Set when `test/block` and `test/stuck` are to return.
    pub(crate) released: Arc<Mutex<bool>>,
}

impl Seen {
    pub(crate) fn notes(&self) -> Vec<i64> {
        self.notes.lock().unwrap().clone()
    }

    pub(crate) fn release(&self) {
        *self.released.lock().unwrap() = true;
    }

    fn block(&self) {
        while !*self.released.lock().unwrap() {
            std::thread::sleep(Duration::from_millis(2));
        }
    }
}

pub(crate) struct Desk {
    client: Client,
    seen: Seen,
}

impl LanguageServer for Desk {
    async fn initialize(&self, params: InitializeParams) -> Result<InitializeResult> {
        match params.initialization_options.as_ref().and_then(Value::as_str) {
            Some("slow") => tokio::time::sleep(Duration::from_millis(50)).await,
            Some("never") => std::future::pending().await,
            Some("panic") => panic!("a planted panic"),
            _ => {}
        }
        Ok(InitializeResult::default())
    }

    async fn shutdown(&self) -> Result<()> {
        Ok(())
    }
}

impl Desk {
    /// How many notes there are, seen before the first await.
    async fn count(&self) -> Result<usize> {
        Ok(self.seen.notes.lock().unwrap().len())
    }

    /// The same, and then takes its time.
    async fn count_slowly(&self) -> Result<usize> {
        let count = self.seen.notes.lock().unwrap().len();
        tokio::time::sleep(Duration::from_millis(5)).await;
        Ok(count)
    }

    async fn echo(&self, params: Value) -> Result<Value> {
        Ok(params)
    }

    async fn never(&self) -> Result<()> {
        std::future::pending().await
    }

    async fn panic(&self) -> Result<()> {
        panic!("a planted panic");
    }

    async fn panic_later(&self) -> Result<()> {
        tokio::task::yield_now().await;
        panic!("a planted panic");
    }

    async fn panic_apart(&self) -> Result<bool> {
        let work = tokio::task::spawn_blocking(|| panic!("a planted panic"));
        Ok(work.await.is_err())
    }

    /// Blocks the thread it runs on until released.
    async fn block(&self) -> Result<()> {
        self.seen.block();
        Ok(())
    }

    /// Blocks a thread of the pool until released.
    async fn block_apart(&self) -> Result<()> {
        let seen = self.seen.clone();
        let _ = tokio::task::spawn_blocking(move || seen.block()).await;
        Ok(())
    }

    /// Asks the client and answers whether it replied with a result.
    async fn ask(&self) -> Result<bool> {
        Ok(self.client.workspace_folders().await.is_ok())
    }

    async fn many_logs(&self) -> Result<()> {
        for number in 0..500 {
            let text = format!("{number}");
            self.client.log_message(MessageType::Info, text).await;
        }
        Ok(())
    }

    async fn note(&self, number: i64) {
        self.seen.notes.lock().unwrap().push(number);
    }

    /// Gives way a few times before it takes effect.
    async fn late_note(&self, number: i64) {
        for _ in 0..number % 3 {
            tokio::task::yield_now().await;
        }
        self.seen.notes.lock().unwrap().push(number);
    }

    async fn panic_note(&self) {
        panic!("a planted panic");
    }

    async fn stuck_note(&self) {
        std::future::pending().await
    }
}

/// The server, and what its handlers have seen.
pub(crate) fn desk() -> (LspService<Desk>, ClientSocket, Seen) {
    let seen = Seen::default();
    let shared = seen.clone();
    let (service, socket) = LspService::build(|client| Desk { client, seen: shared })
        .custom_method("test/count", Desk::count)
        .custom_method("test/countSlowly", Desk::count_slowly)
        .custom_method("test/echo", Desk::echo)
        .custom_method("test/never", Desk::never)
        .custom_method("test/panic", Desk::panic)
        .custom_method("test/panicLater", Desk::panic_later)
        .custom_method("test/panicApart", Desk::panic_apart)
        .custom_method("test/block", Desk::block)
        .custom_method("test/blockApart", Desk::block_apart)
        .custom_method("test/ask", Desk::ask)
        .custom_method("test/manyLogs", Desk::many_logs)
        .custom_method("test/note", Desk::note)
        .custom_method("test/lateNote", Desk::late_note)
        .custom_method("test/panicNote", Desk::panic_note)
        .custom_method("test/stuckNote", Desk::stuck_note)
        .finish();
    (service, socket, seen)
}

/// A request as JSON.
pub(crate) fn ask(id: i64, method: &str) -> Value {
    json!({"jsonrpc": "2.0", "id": id, "method": method})
}

/// A notification as JSON.
pub(crate) fn note(method: &str, params: Value) -> Value {
    json!({"jsonrpc": "2.0", "method": method, "params": params})
}

/// A cancellation as JSON.
pub(crate) fn cancel(id: i64) -> Value {
    note("$/cancelRequest", json!({ "id": id }))
}
