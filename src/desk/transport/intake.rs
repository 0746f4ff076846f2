//! Reading what the client sends.
//!
//! The reader never waits for a handler. A request that finds no slot or no room is turned away
//! with an answer; only a notification may make the reader wait, since it cannot be turned away,
//! and only once messages of [`Limits::queued_bytes`] are waiting before it.

use std::sync::Arc;
use std::sync::atomic::Ordering;

use futures_util::SinkExt;
use tokio::io::AsyncRead;
use tokio::sync::{OwnedSemaphorePermit, mpsc, oneshot};
use tower_lsp::LanguageServer;
use tower_lsp::jsonrpc::{Error, ErrorCode, Id, Request, Response};

use super::frame::{Frame, FrameReader};
use super::message::{self, Incoming};
use super::order::{Ask, Job, What};
use super::session::Session;
use super::step;
use super::{Limits, Reason};

/// What a message takes beside its text, in bytes: its call, its place in the queue.
const OVERHEAD: usize = 1024;
/// `RequestFailed` of the Language Server Protocol 3.17.
const REQUEST_FAILED: i64 = -32803;

/// The reading end of a run. Dropping it tells the keeper of the order that nothing follows.
pub(super) struct Intake<S, R> {
    pub(super) session: Arc<Session<S>>,
    pub(super) jobs: mpsc::UnboundedSender<Job>,
    pub(super) replies: R,
    pub(super) client_process: Option<oneshot::Sender<i32>>,
    pub(super) limits: Limits,
}

impl<S, R> Intake<S, R>
where
    S: LanguageServer,
    R: futures_util::Sink<Response> + Unpin,
{
    /// Reads until the client says `exit` or the input ends.
    pub(super) async fn read<I: AsyncRead + Unpin>(mut self, input: I) -> Reason {
        let mut frames = FrameReader::new(input, self.limits.body_bytes as usize);
        loop {
            match frames.next().await {
                Frame::End => return Reason::InputEnded,
                Frame::Garbage => self
                    .session
                    .complain(message::parse_error("There is no message with a length here.")),
                Frame::TooLong { bytes, ends } => {
                    self.session.complain(message::refused(&format!(
                        "A message of {bytes} bytes is too long; at most {} are read.",
                        self.limits.body_bytes
                    )));
                    self.after_unread(&ends).await;
                }
                Frame::Body(body) => {
                    let messages = message::read(&body, self.limits.values as usize);
                    let share = body.len() / messages.len().max(1) + OVERHEAD;
                    if matches!(messages.as_slice(), [Incoming::Broken(..)]) {
                        self.after_unread(&body).await;
                    }
                    drop(body);
                    for message in messages {
                        if self.take(message, share).await {
                            return Reason::Exit;
                        }
                    }
                }
            }
        }
    }

    /// Deals with one message; true if it was `exit`.
    async fn take(&mut self, message: Incoming, bytes: usize) -> bool {
        match message {
            Incoming::Broken(Id::Null, error) => self.session.complain(error),
            Incoming::Broken(id, error) => self.turn_away(id, error).await,
            Incoming::Reply(reply) => self.reply(reply).await,
            Incoming::Bare(id) if self.session.client_paid(&id) => {
                self.reply(Response::from_ok(id, serde_json::Value::Null)).await;
            }
            Incoming::Bare(id) => {
                let error = message::refused("The message has an id and nothing else.");
                self.turn_away(id, error).await;
            }
            Incoming::Call(request) if request.method() == "exit" => return true,
            Incoming::Call(request) if request.method() == "$/cancelRequest" => {
                // What it is to cancel may itself wait to be handed over; then it follows that too.
                if request.id().is_none() && self.session.deferred.load(Ordering::SeqCst) > 0 {
                    self.queue(request.clone(), OVERHEAD).await;
                }
                // Ready at once; never only queued, or it would come after what it is to cancel.
                if let Ok(Some(answer)) = self.session.call(request).await {
                    self.session.answer(answer).await;
                }
            }
            // The work it is about may hold up the queue, so it goes past it. Ready at once, as above.
            Incoming::Call(request)
                if request.method() == "window/workDoneProgress/cancel" && request.id().is_none() =>
            {
                let _ = self.session.call(request).await;
            }
            Incoming::Call(request) => match step::instead_of(&request).filter(|_| request.id().is_none()) {
                Some(lost) => self.queue(lost, OVERHEAD).await,
                None => self.queue(request, bytes).await,
            },
        }
        false
    }

    /// Tells the desk which document's text it has lost with a message that could not be read.
    async fn after_unread(&mut self, bytes: &[u8]) {
        if let Some(lost) = step::after_unread(bytes) {
            self.queue(lost, OVERHEAD).await;
        }
    }

    async fn reply(&mut self, reply: Response) {
        self.session.client_paid(reply.id());
        // The framework drops replies that nobody waits for, and fails only after `exit`.
        let _ = self.replies.send(reply).await;
    }

    async fn turn_away(&self, id: Id, error: Error) {
        self.session.answer(Response::from_error(id, error)).await;
    }

    async fn queue(&mut self, request: Request, bytes: usize) {
        let room = u32::try_from(bytes)
            .unwrap_or(u32::MAX)
            .min(self.limits.queued_bytes);
        let (ask, room) = match request.id() {
            None => {
                let permits = Arc::clone(&self.session.room);
                let Ok(room) = permits.acquire_many_owned(room).await else {
                    return;
                };
                (None, room)
            }
            Some(id) => {
                let id = id.clone();
                let Some((slot, room)) = self.permits(room) else {
                    let busy = Error {
                        code: ErrorCode::ServerError(REQUEST_FAILED),
                        message: "Too many questions are waiting for an answer.".into(),
                        data: None,
                    };
                    return self.turn_away(id, busy).await;
                };
                (Some(Ask { id, slot }), room)
            }
        };
        let method = request.method().to_owned();
        let first = method == "initialize";
        if first {
            self.watch_client(&request);
        }
        // A client may send on without waiting for the answer to `initialize`, although it should
        // not. The service would refuse what it is handed before that answer is there.
        let what = if first || self.session.deferred.load(Ordering::SeqCst) > 0 {
            self.session.deferred.fetch_add(1, Ordering::SeqCst);
            What::Deferred(request)
        } else {
            What::Called(self.session.call(request))
        };
        // The other end lives as long as the run.
        let _ = self.jobs.send(Job {
            method,
            what,
            ask,
            room,
        });
    }

    fn permits(&self, room: u32) -> Option<(OwnedSemaphorePermit, OwnedSemaphorePermit)> {
        let slot = Arc::clone(&self.session.slots).try_acquire_owned().ok()?;
        let room = Arc::clone(&self.session.room).try_acquire_many_owned(room).ok()?;
        Some((slot, room))
    }

    fn watch_client(&mut self, request: &Request) {
        let number = request
            .params()
            .and_then(|params| params.get("processId"))
            .and_then(serde_json::Value::as_i64)
            .and_then(|number| i32::try_from(number).ok());
        if let Some(number) = number
            && let Some(named) = self.client_process.take()
        {
            // Nobody listens only if the run is ending.
            let _ = named.send(number);
        }
    }
}
