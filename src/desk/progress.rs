//! Saying how far long work is, and hearing that nobody wants it any more.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use tokio::sync::watch;
use tower_lsp::gen_lsp_types::{ProgressToken, WorkDoneProgressCancelParams};

use crate::disk::Progress;

use super::session::Session;

/// From how many files on reading a catalogue is worth telling of.
const MANY: usize = 100;

/// The reading of a catalogue, told to the client while it goes on. Dropping it ends the telling.
#[derive(Debug)]
pub(super) struct Reading {
    /// How far it is.
    far: watch::Sender<Progress>,
    /// Set when the user wants it stopped.
    pub(super) stop: Arc<AtomicBool>,
}

impl Reading {
    /// Begins to tell, to a client that shows such things.
    pub(super) fn begin(session: &Arc<Session>) -> Reading {
        let reading = Reading {
            far: watch::Sender::new(Progress::default()),
            stop: Arc::new(AtomicBool::new(false)),
        };
        if session.can().shows_progress {
            let (session, far) = (Arc::clone(session), reading.far.subscribe());
            let stop = Arc::clone(&reading.stop);
            // The client's answer is waited for apart: the files must be read whether it answers or not.
            let runtime = session.runtime().clone();
            runtime.spawn(async move { tell(&session, far, stop).await });
        }
        reading
    }

    /// Notes how far it is.
    pub(super) fn at(&self, progress: Progress) {
        self.far.send_replace(progress);
    }
}

async fn tell(session: &Arc<Session>, mut far: watch::Receiver<Progress>, stop: Arc<AtomicBool>) {
    // A short reading ends before there is anything to tell.
    if far.wait_for(|far| far.found >= MANY).await.is_err() {
        return;
    }
    let name = session.new_token();
    let token = ProgressToken::String(name.clone());
    // From the moment the client knows the name it may send it back.
    session.may_cancel(name.clone(), stop);
    let asked = session.wire.create_work_done_progress(token.clone());
    if asked.await.is_err() {
        session.over(&name);
        return;
    }
    let shown = session
        .wire
        .progress(token, "Reading the catalog")
        .with_cancel_button()
        .with_percentage(0)
        .begin()
        .await;
    let mut before = 0;
    while far.changed().await.is_ok() {
        let Progress { found, read, .. } = *far.borrow_and_update();
        let hundredths = read.saturating_mul(100).checked_div(found).unwrap_or(0);
        // One step in twenty is as fine as anybody sees.
        if hundredths >= before + 5 {
            before = hundredths;
            let percentage = u32::try_from(hundredths).unwrap_or(100);
            let message = format!("{read} of {found} files");
            shown.report_with_message(message, percentage, None).await;
        }
    }
    session.over(&name);
    shown.finish().await;
}

impl Session {
    /// The user wants some work stopped.
    pub(super) fn cancelled(&self, params: &WorkDoneProgressCancelParams) {
        if let ProgressToken::String(name) = &params.token
            && let Some(stop) = self.stop_of(name)
        {
            stop.store(true, Ordering::Relaxed);
        }
    }
}
