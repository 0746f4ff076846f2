//! What the parts of one run share.

use std::collections::HashSet;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use futures_util::future::{BoxFuture, FutureExt, ready};
use serde_json::json;
use tokio::runtime::Handle;
use tokio::sync::{Notify, Semaphore, mpsc};
use tower::Service;
use tower_lsp::jsonrpc::{Error, ErrorCode, Id, Request, Response};
use tower_lsp::{ExitedError, LanguageServer, LspService};

use super::Limits;
use super::writer::Outgoing;

/// A call that the service has taken and that will run when it is polled.
pub(super) type Call = BoxFuture<'static, Result<Option<Response>, ExitedError>>;

/// One run of the transport.
pub(super) struct Session<S> {
    service: Mutex<LspService<S>>,
    /// The queue of what is to be written, behind all that handlers have told by then.
    pub(super) out: mpsc::Sender<Outgoing>,
    /// Where handlers run.
    pub(super) workers: Handle,
    /// One slot for each request that may wait for its answer.
    pub(super) slots: Arc<Semaphore>,
    /// One permit for each byte that messages not yet dealt with may take.
    pub(super) room: Arc<Semaphore>,
    /// Messages that are handed to the service only when their turn comes.
    pub(super) deferred: AtomicUsize,
    /// Told when the run ends and what has not had its turn will not get one.
    pub(super) ending: Notify,
    asked_client: Mutex<HashSet<Id>>,
    shut_down: AtomicBool,
}

impl<S: LanguageServer> Session<S> {
    pub(super) fn new(
        service: LspService<S>,
        out: mpsc::Sender<Outgoing>,
        workers: Handle,
        limits: &Limits,
    ) -> Self {
        Self {
            service: Mutex::new(service),
            out,
            workers,
            slots: Arc::new(Semaphore::new(limits.waiting_requests as usize)),
            room: Arc::new(Semaphore::new(limits.queued_bytes as usize)),
            deferred: AtomicUsize::new(0),
            ending: Notify::new(),
            asked_client: Mutex::new(HashSet::new()),
            shut_down: AtomicBool::new(false),
        }
    }

    /// Hands a message to the service, which notes the id of a request so that it can be
    /// cancelled from now on. The handler itself starts when the call is first polled.
    ///
    /// `LspService::poll_ready` is not asked: it waits for nothing but a state that is never set.
    pub(super) fn call(&self, request: Request) -> Call {
        let id = request.id().cloned();
        let called = catch_unwind(AssertUnwindSafe(|| hold(&self.service).call(request)));
        called.unwrap_or_else(|_| {
            let answer = id.map(|id| Response::from_error(id, Error::internal_error()));
            ready(Ok(answer)).boxed()
        })
    }

    /// Forgets a request whose handler panicked; the service does so only for those that return.
    pub(super) async fn forget(&self, id: &Id) {
        let cancel = Request::build("$/cancelRequest")
            .params(json!({ "id": id }))
            .finish();
        // The service knows no error here but that it has exited.
        let _ = self.call(cancel).await;
    }

    /// Queues an answer, waiting while the queue is full.
    pub(super) async fn answer(&self, response: Response) {
        // An error means that the writer has ended, and the run with it.
        let _ = self.out.send(Outgoing::Answer(response)).await;
    }

    /// Queues an answer to a message without an id, unless the queue is full: nobody waits for
    /// it, and a client that does not read must not stop its own messages from being read.
    pub(super) fn complain(&self, error: Error) {
        let answer = Response::from_error(Id::Null, error);
        let _ = self.out.try_send(Outgoing::Answer(answer));
    }

    /// Leaves a line in the client's log, unless the queue is full.
    pub(super) fn log(&self, text: &str) {
        const ERROR: u8 = 1;
        let note = Request::build("window/logMessage")
            .params(json!({ "type": ERROR, "message": text }))
            .finish();
        let _ = self.out.try_send(Outgoing::Ask(note));
    }

    /// Remembers that the client owes a reply.
    pub(super) fn client_owes(&self, id: Id) {
        hold(&self.asked_client).insert(id);
    }

    /// Whether the client owed this reply; from now on it does not.
    pub(super) fn client_paid(&self, id: &Id) -> bool {
        hold(&self.asked_client).remove(id)
    }

    /// The replies that will not come any more, as errors.
    pub(super) fn unpaid(&self) -> Vec<Response> {
        let ended = || Error {
            code: ErrorCode::InternalError,
            message: "The session has ended.".into(),
            data: None,
        };
        let owed = std::mem::take(&mut *hold(&self.asked_client));
        owed.into_iter()
            .map(|id| Response::from_error(id, ended()))
            .collect()
    }

    /// Notes that `shutdown` was answered with success.
    pub(super) fn note_shutdown(&self) {
        self.shut_down.store(true, Ordering::SeqCst);
    }

    /// Whether `shutdown` was answered with success.
    pub(super) fn is_shut_down(&self) -> bool {
        self.shut_down.load(Ordering::SeqCst)
    }
}

/// A panic elsewhere leaves what the lock guards as whole as it was, so it goes on being used.
fn hold<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}
