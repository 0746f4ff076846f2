//! Carrying messages between the editor and the handlers.
//!
//! The framework's own loop is not used. It ends the session at the first message that it cannot
//! read, unwinds with the first handler that panics, swaps neighbouring notifications, and goes
//! deaf, even to cancellations, while four requests wait. `tests/transport.rs` shows each of
//! these, and that this loop has none of them. The framework keeps what it does well: the typed
//! handlers, the state of the session, and the register of requests that can be cancelled.
//!
//! - `frame`: bytes to bodies, and back on the road after rubbish.
//! - `message`: bodies to calls and replies.
//! - `intake`: the reader, which never waits for a handler.
//! - `order`: notifications strictly in order, requests on what they found.
//! - `writer`: the only one who writes.
//! - `written`: answers whose greatest part is JSON already.
//! - `step`: what becomes of a change that cannot be read.
//! - `client_process`: ends the run when the editor has died.
//! - `stdio`: all this over standard input and output.

mod client_process;
mod frame;
mod intake;
mod message;
mod order;
mod session;
mod stdio;
mod step;
mod writer;
mod written;

use std::sync::Arc;
use std::time::Duration;

use futures_util::{SinkExt, Stream, StreamExt};
use tokio::io::{AsyncRead, AsyncWrite};
use tokio::runtime::Handle;
use tokio::sync::{mpsc, oneshot};
use tokio::time::timeout;
use tower_lsp::jsonrpc::Request;
use tower_lsp::{ClientSocket, LanguageServer, LspService};

pub use stdio::serve;
pub use written::with_items;

use session::Session;
use writer::Outgoing;
use writer::Taken;

/// How many messages may wait for the writer.
const OUT_QUEUE: usize = 256;
/// What was received before the end gets this long to be answered.
const LAST_ANSWERS: Duration = Duration::from_secs(1);
/// After that, requests that are cancelled get this long to say so.
const LAST_CANCELS: Duration = Duration::from_millis(100);
/// And what is queued gets this long to be written.
const LAST_WRITES: Duration = Duration::from_millis(800);

/// How much a run keeps in memory. What exceeds it is answered or waits; see each field.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limits {
    /// The longest body, in bytes. Longer ones are answered with -32600 and skipped unread.
    pub body_bytes: u32,
    /// The most JSON values in one body. A body with more is answered with -32600.
    pub values: u32,
    /// Requests that may wait for their answers. Further ones are answered with -32803.
    pub waiting_requests: u32,
    /// Bytes of messages that are waiting or being answered. A request over it is answered with
    /// -32803; a notification over it makes the reader wait.
    pub queued_bytes: u32,
}

impl Default for Limits {
    /// 160 MiB for a body (the largest file there may be, 64 MiB, with room for its escapes), two million
    /// values, 4096 requests, 192 MiB of queue.
    fn default() -> Self {
        Self {
            body_bytes: 160 << 20,
            values: 2_000_000,
            waiting_requests: 4096,
            queued_bytes: 192 << 20,
        }
    }
}

/// Why a run ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reason {
    /// The client sent `exit`.
    Exit,
    /// The input ended, or could not be read.
    InputEnded,
    /// The output could not be written.
    OutputBroken,
    /// The process named in `initialize` is no longer alive.
    ClientGone,
}

/// How a run ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ended {
    /// Why.
    pub reason: Reason,
    /// Whether `shutdown` had been answered with success.
    pub shut_down: bool,
}

impl Ended {
    /// The exit status of the process: 0 after `shutdown`, otherwise 1 (Language Server Protocol
    /// 3.17, "Exit Notification").
    #[must_use]
    pub fn status(&self) -> u8 {
        u8::from(!self.shut_down)
    }
}

/// Serves one client until one of the [`Reason`]s to end.
///
/// Handlers run on `workers`. The transport itself runs where this future is polled; give it a
/// runtime of its own, as [`serve`] does, and no handler can keep it from reading or from ending,
/// not even one that never gives way. The future ends two seconds after its reason at the latest
/// (one if only handlers are stuck, none if nothing is going on). Handlers that are still running
/// then are left to themselves.
///
/// # The contract with the handlers
///
/// 1. A request finds the state left by all notifications received before it and by none received
///    after it, **if it takes its snapshot before its first `.await`**. The next notification does
///    not start before every earlier request has been polled once.
/// 2. What takes long follows the snapshot, in `spawn_blocking`: until a request's first
///    `.await`, later notifications wait for it.
/// 3. A notification runs to its end before anything after it starts. So it must **never await a
///    reply of the client**, which comes after it: such work goes to a task of its own.
/// 4. `initialize` runs to its end before anything after it starts, likewise.
/// 5. Handlers may panic. A request is then answered with -32603; a notification is noted in the
///    client's log. They may be dropped at any `.await` by a cancellation.
///
/// Every request is answered exactly once while the output works, also when it is cancelled
/// (-32800) or the session ends first.
pub async fn run<S, I, O>(
    service: LspService<S>,
    socket: ClientSocket,
    input: I,
    output: O,
    workers: Handle,
    limits: Limits,
) -> Ended
where
    S: LanguageServer,
    I: AsyncRead + Unpin,
    O: AsyncWrite + Unpin + Send + 'static,
{
    let (out, said) = mpsc::channel(OUT_QUEUE);
    let (written, out_queue) = mpsc::channel(OUT_QUEUE);
    let (jobs, job_queue) = mpsc::unbounded_channel();
    let (named, process) = oneshot::channel();
    let (asked, mut replies) = socket.split();
    let session = Arc::new(Session::new(service, out, workers, &limits));

    let taken = Taken::default();
    let mut writer = tokio::spawn(writer::write_all(out_queue, output, taken.clone()));
    let mut order = tokio::spawn(order::keep(Arc::clone(&session), job_queue));
    let forward = tokio::spawn(forward(Arc::clone(&session), asked, said, written));
    let intake = intake::Intake {
        session: Arc::clone(&session),
        jobs,
        replies: &mut replies,
        client_process: Some(named),
        limits,
    };

    let reason = tokio::select! {
        reason = intake.read(input) => reason,
        () = client_process::gone(process) => Reason::ClientGone,
        _ = &mut writer => Reason::OutputBroken,
    };

    let listening = matches!(reason, Reason::Exit | Reason::InputEnded);
    if listening {
        // Whoever pipes a whole session in wants its answers, and `exit` may come right behind
        // `shutdown`. With nothing waiting this takes no time.
        let answered = async {
            let _ = (&mut order).await;
            let _ = session.slots.acquire_many(limits.waiting_requests).await;
        };
        // What is late is cancelled below.
        let _ = timeout(LAST_ANSWERS, answered).await;
    }
    for reply in session.unpaid() {
        // A handler that waits for a reply gets an error to end with.
        let _ = replies.send(reply).await;
    }
    // `exit` also stands in for the client that did not say it: it cancels what still runs.
    let _ = session.call(Request::build("exit").finish()).await;
    session.ending.notify_one();
    if listening {
        let cancelled = async {
            if !order.is_finished() {
                let _ = (&mut order).await;
            }
            let _ = session.slots.acquire_many(limits.waiting_requests).await;
        };
        let _ = timeout(LAST_CANCELS, cancelled).await;
        let written = async {
            let _ = session.out.send(Outgoing::Last).await;
            let _ = (&mut writer).await;
        };
        // A client that reads slowly is waited for as long as it reads at all.
        tokio::pin!(written);
        let mut before = taken.count();
        while timeout(LAST_WRITES, &mut written).await.is_err() {
            let now = taken.count();
            if now == before {
                break;
            }
            before = now;
        }
    }
    forward.abort();
    order.abort();
    writer.abort();
    Ended {
        reason,
        shut_down: session.is_shut_down(),
    }
}

/// Passes answers, and what the handlers ask and tell the client, to the writer. An answer goes only when all
/// that was told before it has gone: what is sent in parts must not be overtaken by its end (Language Server
/// Protocol 3.17, "Partial Result Progress").
async fn forward<S: LanguageServer>(
    session: Arc<Session<S>>,
    mut asked: impl Stream<Item = Request> + Unpin,
    mut said: mpsc::Receiver<Outgoing>,
    written: mpsc::Sender<Outgoing>,
) {
    loop {
        let next = tokio::select! {
            biased;
            Some(request) = asked.next() => {
                if let Some(id) = request.id() {
                    session.client_owes(id.clone());
                }
                Outgoing::Ask(request)
            }
            Some(next) = said.recv() => next,
            else => return,
        };
        if written.send(next).await.is_err() {
            return;
        }
    }
}
