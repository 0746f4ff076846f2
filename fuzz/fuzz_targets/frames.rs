//! Whatever bytes come in, a good request behind them is answered, unless they held an end of the session.
#![no_main]

use std::time::Duration;

use levare::desk::transport::{Ended, Limits, Reason, run};
use libfuzzer_sys::fuzz_target;
use serde_json::{Value, json};
use tokio::io::{AsyncBufReadExt, AsyncReadExt, AsyncWriteExt, BufReader};
use tokio::runtime::{Builder, Handle};
use tower_lsp::gen_lsp_types::{InitializeParams, InitializeResult};
use tower_lsp::jsonrpc::Result;
use tower_lsp::{LanguageServer, LspService};

struct Nobody;

impl LanguageServer for Nobody {
    async fn initialize(&self, _: InitializeParams) -> Result<InitializeResult> {
        Ok(InitializeResult::default())
    }

    async fn shutdown(&self) -> Result<()> {
        Ok(())
    }
}

impl Nobody {
    async fn echo(&self, params: Value) -> Result<Value> {
        Ok(params)
    }

    async fn note(&self, _: Value) {}
}

/// Smaller than a client's, so that what goes over them is tried often.
const LIMITS: Limits = Limits {
    body_bytes: 4096,
    values: 200,
    waiting_requests: 8,
    queued_bytes: 1 << 16,
};
const LAST: &str = "the last one";

fn frame(message: &Value) -> Vec<u8> {
    let body = message.to_string();
    format!("Content-Length: {}\r\n\r\n{body}", body.len()).into_bytes()
}

/// The next message's id; none at the end of the pipe. What the desk writes must be in right frames.
async fn next(from: &mut (impl AsyncBufReadExt + Unpin)) -> Option<Value> {
    let mut length = None;
    loop {
        let mut line = String::new();
        if from.read_line(&mut line).await.expect("it is text") == 0 {
            return None;
        }
        match line.trim_end().split_once(": ") {
            Some(("Content-Length", value)) => length = Some(value.parse().expect("a number")),
            Some(_) => {}
            None => break,
        }
    }
    let mut body = vec![0; length.expect("a length")];
    from.read_exact(&mut body).await.ok()?;
    let message: Value = serde_json::from_slice(&body).expect("JSON");
    Some(message["id"].clone())
}

async fn talk(bytes: &[u8]) {
    let (service, socket) = LspService::build(|_| Nobody)
        .custom_method("test/echo", Nobody::echo)
        .custom_method("test/note", Nobody::note)
        .finish();
    let (near, far) = tokio::io::duplex(1 << 16);
    let (input, output) = tokio::io::split(far);
    let (from, mut to) = tokio::io::split(near);
    let session = tokio::spawn(run(service, socket, input, output, Handle::current(), LIMITS));
    let mut sent = frame(&json!({"jsonrpc": "2.0", "id": 0, "method": "initialize", "params": {"capabilities": {}}}));
    sent.extend_from_slice(bytes);
    // The end of a line, and a request that a body cut short may take for its own.
    sent.extend_from_slice(b"\r\n");
    let last = |id: &str| frame(&json!({"jsonrpc": "2.0", "id": id, "method": "test/echo", "params": [1]}));
    sent.extend(last("the one before"));
    sent.extend(last(LAST));
    let writing = tokio::spawn(async move {
        let _ = to.write_all(&sent).await;
        to
    });
    let mut from = BufReader::new(from);
    let mut answered = false;
    while let Some(id) = next(&mut from).await {
        if id == LAST {
            answered = true;
            break;
        }
    }
    drop(from);
    drop(writing.await.expect("it writes"));
    let Ended { reason, .. } = session.await.expect("the session does not stumble");
    assert!(answered || matches!(reason, Reason::Exit | Reason::ClientGone), "deaf: {reason:?}");
}

fuzz_target!(|bytes: &[u8]| {
    let runtime = Builder::new_current_thread().enable_all().build().expect("a runtime");
    let went = runtime.block_on(async { tokio::time::timeout(Duration::from_secs(10), talk(bytes)).await });
    assert!(went.is_ok(), "stuck");
    runtime.shutdown_background();
});
