//! Running the desk over standard input and output.

use std::io::{self, Write};
use std::sync::Arc;

use tower_lsp::gen_lsp_types::MessageType;
use tower_lsp::{ClientSocket, LspService};

use super::publisher;
use super::refresher;
use super::server::Desk;
use super::session::Session;
use super::transport::{self, Limits};

/// Serves the editor at standard input and output until it has gone, and gives the exit status of the
/// process: 0 after an orderly end, 1 otherwise, 2 when serving could not begin.
pub fn serve() -> u8 {
    match transport::serve(service, Limits::default()) {
        Ok(ended) => ended.status(),
        Err(error) => {
            // Nothing else can be done when not even this can be written.
            let _ = writeln!(io::stderr(), "The desk could not be opened: {error}.");
            2
        }
    }
}

fn service() -> (LspService<Desk>, ClientSocket) {
    LspService::build(|wire| {
        let session = Arc::new(Session::new(wire));
        note_panics(&session);
        let rounds = session.rounds();
        tokio::spawn(publisher::run(Arc::clone(&session), rounds));
        tokio::spawn(refresher::run(Arc::clone(&session), session.rounds()));
        Desk::new(session)
    })
    .custom_method("window/workDoneProgress/cancel", Desk::cancel_progress)
    .custom_method("levare/text", Desk::text)
    .custom_method("levare/hold", Desk::hold)
    .custom_method("levare/kept", Desk::kept)
    .custom_method("levare/outOfStep", Desk::out_of_step)
    .custom_method("levare/wait", Desk::wait)
    .custom_method("levare/settled", Desk::settled)
    .custom_method("levare/stumble", Desk::stumble)
    .finish()
}

/// A panic is a mistake of ours. The session goes on; whoever reports it finds it in the editor's log.
fn note_panics(session: &Arc<Session>) {
    let wire = session.wire.clone();
    let runtime = session.runtime().clone();
    std::panic::set_hook(Box::new(move |panic| {
        let text = format!("The desk stumbled and goes on: {panic}");
        let _ = writeln!(io::stderr(), "{text}");
        let wire = wire.clone();
        runtime.spawn(async move { wire.log_message(MessageType::Error, text).await });
    }));
}
