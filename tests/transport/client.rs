//! The client's side of the pipes.

use std::future::Future;
use std::time::Duration;

use levare::desk::transport::{Ended, Limits, run};
use serde_json::{Value, json};
use tokio::io::{AsyncBufReadExt, AsyncReadExt, AsyncWriteExt, BufReader, DuplexStream, ReadHalf, WriteHalf};
use tokio::runtime::{Builder, Runtime};
use tokio::task::JoinHandle;

use crate::desk::{Seen, ask, desk, note};

/// Far longer than anything here takes; only a session that is stuck waits for it.
pub(crate) const STUCK: Duration = Duration::from_secs(20);
/// How long a loop that is expected to be deaf is listened to.
pub(crate) const DEAF: Duration = Duration::from_millis(400);
/// The size of the pipes, in bytes; small, as real ones are beside a burst of typing.
const PIPE: usize = 4096;

/// Which loop serves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Loop {
    Ours,
    Frameworks,
}

/// A client with a session behind its pipes.
pub(crate) struct Talk {
    pub(crate) to: Option<WriteHalf<DuplexStream>>,
    pub(crate) from: BufReader<ReadHalf<DuplexStream>>,
    pub(crate) seen: Seen,
    /// Ours says how it ended; the framework's says nothing.
    pub(crate) session: JoinHandle<Option<Ended>>,
    workers: Option<Runtime>,
}

impl Drop for Talk {
    fn drop(&mut self) {
        self.seen.release();
        if let Some(workers) = self.workers.take() {
            workers.shutdown_background();
        }
    }
}

impl Talk {
    /// A session before `initialize`.
    pub(crate) fn open(which: Loop, limits: Limits) -> Self {
        let (service, socket, seen) = desk();
        let (near, far) = tokio::io::duplex(PIPE);
        let (input, output) = tokio::io::split(far);
        let (from, to) = tokio::io::split(near);
        let workers = Builder::new_multi_thread()
            .worker_threads(2)
            .enable_all()
            .build()
            .unwrap();
        let handle = workers.handle().clone();
        let session = tokio::spawn(async move {
            match which {
                Loop::Ours => Some(run(service, socket, input, output, handle, limits).await),
                Loop::Frameworks => {
                    tower_lsp::Server::new(input, output, socket).serve(service).await;
                    None
                }
            }
        });
        Self {
            to: Some(to),
            from: BufReader::new(from),
            seen,
            session,
            workers: Some(workers),
        }
    }

    /// A session after `initialize` (request 0) and `initialized`.
    pub(crate) async fn begin(which: Loop) -> Self {
        Self::begin_with(which, Limits::default()).await
    }

    /// The same, with limits of its own.
    pub(crate) async fn begin_with(which: Loop, limits: Limits) -> Self {
        let mut talk = Self::open(which, limits);
        talk.send(&initialize(json!({}))).await;
        let answer = talk.answer(0).await;
        assert!(answer.get("result").is_some(), "{answer}");
        talk.send(&note("initialized", json!({}))).await;
        talk
    }

    /// Writes bytes as they are. A session that has ended does not take them.
    pub(crate) async fn send_raw(&mut self, bytes: &[u8]) {
        if let Some(to) = &mut self.to {
            let _ = stuck("writing", to.write_all(bytes)).await;
        }
    }

    /// Writes one message.
    pub(crate) async fn send(&mut self, message: &Value) {
        self.send_raw(&frame(message)).await;
    }

    /// The next message; `None` when the session has closed the pipe.
    pub(crate) async fn receive(&mut self) -> Option<Value> {
        stuck("reading", receive(&mut self.from)).await
    }

    /// The answer to a request, passing over what is not an answer.
    pub(crate) async fn answer(&mut self, id: i64) -> Value {
        self.answer_in(id, STUCK)
            .await
            .unwrap_or_else(|| panic!("no answer to {id}"))
    }

    /// The answer to a request, if it comes within this time and before the pipe is closed.
    pub(crate) async fn answer_in(&mut self, id: i64, time: Duration) -> Option<Value> {
        let looking = async {
            loop {
                let message = receive(&mut self.from).await?;
                if message.get("method").is_none() && message["id"] == json!(id) {
                    return Some(message);
                }
            }
        };
        tokio::time::timeout(time, looking).await.ok().flatten()
    }

    /// Asserts that the session answers a good request.
    pub(crate) async fn lives(&mut self) {
        assert!(self.answers(STUCK).await, "the session is deaf");
    }

    /// Asserts that the session lives on, or that it does not: it has ended, or is deaf.
    pub(crate) async fn lives_if(&mut self, lives: bool) {
        if lives {
            self.lives().await;
        } else {
            assert!(!self.answers(DEAF).await, "the session lives on");
        }
    }

    async fn answers(&mut self, time: Duration) -> bool {
        let Some(to) = &mut self.to else { return false };
        let request = frame(&ask(9999, "test/count"));
        let written = tokio::time::timeout(time, to.write_all(&request)).await;
        matches!(written, Ok(Ok(()))) && self.answer_in(9999, time).await.is_some()
    }

    /// Closes the client's writing end.
    pub(crate) async fn hang_up(&mut self) {
        if let Some(mut to) = self.to.take() {
            let _ = to.shutdown().await;
        }
    }

    /// Whether the session ends with a panic.
    pub(crate) async fn has_panicked(&mut self) -> bool {
        let ended = stuck("ending", &mut self.session).await;
        ended.is_err_and(|error| error.is_panic())
    }

    /// How our session ended.
    pub(crate) async fn ended(&mut self) -> Ended {
        let ended = stuck("ending", &mut self.session).await;
        ended.expect("the session did not panic").expect("it is ours")
    }
}

/// Runs one row on both loops; each runs on a runtime of its own.
pub(crate) fn on_both<F: Future<Output = ()>>(row: impl Fn(Loop) -> F) {
    for which in [Loop::Ours, Loop::Frameworks] {
        on(which, &row);
    }
}

/// Runs one row on one loop.
pub(crate) fn on<F: Future<Output = ()>>(which: Loop, row: impl Fn(Loop) -> F) {
    let runtime = Builder::new_multi_thread()
        .worker_threads(2)
        .enable_all()
        .build()
        .unwrap();
    runtime.block_on(row(which));
    runtime.shutdown_background();
}

/// The `initialize` request, with id 0 and these fields in its parameters.
pub(crate) fn initialize(fields: Value) -> Value {
    let mut params = json!({"processId": null, "rootUri": null, "capabilities": {}});
    for (name, value) in fields.as_object().into_iter().flatten() {
        params[name] = value.clone();
    }
    json!({"jsonrpc": "2.0", "id": 0, "method": "initialize", "params": params})
}

/// A message in its frame.
pub(crate) fn frame(message: &Value) -> Vec<u8> {
    frame_of(message.to_string().as_bytes())
}

/// Bytes in a frame.
pub(crate) fn frame_of(body: &[u8]) -> Vec<u8> {
    let mut bytes = format!("Content-Length: {}\r\n\r\n", body.len()).into_bytes();
    bytes.extend_from_slice(body);
    bytes
}

/// The code of an error answer.
pub(crate) fn code(answer: &Value) -> Option<i64> {
    answer["error"]["code"].as_i64()
}

async fn stuck<T>(what: &str, work: impl Future<Output = T>) -> T {
    tokio::time::timeout(STUCK, work)
        .await
        .unwrap_or_else(|_| panic!("stuck while {what}"))
}

/// Reads one message; `None` at the end of the pipe.
pub(crate) async fn receive(from: &mut BufReader<ReadHalf<DuplexStream>>) -> Option<Value> {
    let mut length = 0;
    loop {
        let mut line = String::new();
        if from.read_line(&mut line).await.ok()? == 0 {
            return None;
        }
        match line.trim_end().split_once(": ") {
            Some(("Content-Length", value)) => length = value.parse().ok()?,
            Some(_) => {}
            None => break,
        }
    }
    let mut body = vec![0; length];
    from.read_exact(&mut body).await.ok()?;
    serde_json::from_slice(&body).ok()
}
