//! Keeping the order of what was received.
//!
//! One task takes the messages in turn. A notification is run to its end before anything after it
//! starts. A request is started and left to run; the next notification waits until every request
//! before it has been polled once, and so has taken its snapshot (see the contract of
//! [`run`](super::run)). Requests never wait for one another.

use std::panic::AssertUnwindSafe;
use std::pin::Pin;
use std::sync::Arc;
use std::sync::atomic::Ordering;
use std::task::{Context, Poll};

use futures_util::future::FutureExt;
use tokio::sync::{OwnedSemaphorePermit, mpsc};
use tower_lsp::LanguageServer;
use tower_lsp::jsonrpc::{Error, Id, Request, Response};

use super::session::{Call, Session};

/// A message whose turn will come, with the permits it gives back when it is dealt with.
pub(super) struct Job {
    pub(super) method: String,
    pub(super) what: What,
    /// Present for a request, absent for a notification.
    pub(super) ask: Option<Ask>,
    pub(super) room: OwnedSemaphorePermit,
}

/// Whether the service has seen the message.
pub(super) enum What {
    /// It has, when the message was read.
    Called(Call),
    /// It has not, because an `initialize` was still being answered. Until it has, a cancellation
    /// does not find it, and one that comes then is queued behind it.
    Deferred(Request),
}

/// What makes a message a request.
pub(super) struct Ask {
    pub(super) id: Id,
    pub(super) slot: OwnedSemaphorePermit,
}

/// Takes every job in turn until no more can come, or until the run ends; requests whose turn
/// had not come then are answered as cancelled.
pub(super) async fn keep<S: LanguageServer>(
    session: Arc<Session<S>>,
    mut jobs: mpsc::UnboundedReceiver<Job>,
) {
    tokio::select! {
        () = take_turns(&session, &mut jobs) => {}
        () = session.ending.notified() => {}
    }
    while let Ok(job) = jobs.try_recv() {
        if let Some(ask) = job.ask {
            let cancelled = Response::from_error(ask.id, Error::request_cancelled());
            session.answer(cancelled).await;
        }
    }
}

async fn take_turns<S: LanguageServer>(session: &Arc<Session<S>>, jobs: &mut mpsc::UnboundedReceiver<Job>) {
    let mut starts = Starts(None);
    while let Some(job) = jobs.recv().await {
        let (call, deferred) = match job.what {
            What::Called(call) => (call, false),
            What::Deferred(request) => (session.call(request), true),
        };
        match job.ask {
            None => {
                starts.all().await;
                let note = session.workers.spawn(call);
                if note.await.is_err_and(|error| error.is_panic()) {
                    session.log(&format!(
                        "Levare stumbled over {}. What was typed last may be missing until the \
                         file is closed and opened again.",
                        job.method
                    ));
                }
            }
            Some(ask) => {
                let first = job.method == "initialize";
                let permits = (ask.slot, job.room);
                let answer = answer(
                    Arc::clone(session),
                    job.method,
                    ask.id,
                    FirstPoll {
                        call,
                        mark: Some(starts.mark()),
                    },
                    permits,
                );
                let answered = session.workers.spawn(answer);
                if first {
                    // Only its answer says whether what follows is to be heard at all. Its
                    // panics are caught inside.
                    let _ = answered.await;
                }
            }
        }
        if deferred {
            session.deferred.fetch_sub(1, Ordering::SeqCst);
        }
    }
}

/// Runs one request and answers it, whatever becomes of it.
async fn answer<S: LanguageServer>(
    session: Arc<Session<S>>,
    method: String,
    id: Id,
    call: FirstPoll,
    permits: (OwnedSemaphorePermit, OwnedSemaphorePermit),
) {
    let response = match AssertUnwindSafe(call).catch_unwind().await {
        Ok(Ok(Some(response))) => response,
        // The service leaves optional requests unanswered that it does not know. The protocol
        // asks for this error ("Notification and Requests whose methods start with `$/`").
        Ok(Ok(None)) => Response::from_error(id, Error::method_not_found()),
        Ok(Err(_exited)) => Response::from_error(id, Error::invalid_request()),
        Err(_panic) => {
            session.forget(&id).await;
            let message =
                format!("Levare stumbled over {method}. Nothing in your files was changed, and it goes on.");
            let error = Error {
                message: message.into(),
                ..Error::internal_error()
            };
            Response::from_error(id, error)
        }
    };
    if method == "shutdown" && response.is_ok() {
        session.note_shutdown();
    }
    session.answer(response).await;
    drop(permits);
}

/// A call that lets go of its mark once it has been polled, or dropped.
struct FirstPoll {
    call: Call,
    mark: Option<mpsc::Sender<()>>,
}

impl Future for FirstPoll {
    type Output = <Call as Future>::Output;

    fn poll(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<Self::Output> {
        let polled = self.call.as_mut().poll(context);
        self.mark = None;
        polled
    }
}

/// The requests that have not been polled yet. Each holds a sender of a channel nothing is sent
/// through; the channel ends when the last of them is dropped.
struct Starts(Option<(mpsc::Sender<()>, mpsc::Receiver<()>)>);

impl Starts {
    fn mark(&mut self) -> mpsc::Sender<()> {
        self.0.get_or_insert_with(|| mpsc::channel(1)).0.clone()
    }

    async fn all(&mut self) {
        if let Some((own, mut rest)) = self.0.take() {
            drop(own);
            rest.recv().await;
        }
    }
}
