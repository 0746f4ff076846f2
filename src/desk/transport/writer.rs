//! The one task that writes to the client.

use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};

use tokio::io::{AsyncWrite, AsyncWriteExt};
use tokio::sync::mpsc::Receiver;
use tower_lsp::jsonrpc::{Request, Response};

use super::written;

/// Something to be written.
#[derive(Debug)]
pub(super) enum Outgoing {
    /// An answer to the client.
    Answer(Response),
    /// A request or notification of ours.
    Ask(Request),
    /// Nothing follows: write what was queued before, and end.
    Last,
}

/// How many bytes are handed over at a time, so that a slow reader is seen to move.
const PIECE: usize = 16 * 1024;

/// Counts the bytes that a reader has taken, so that one who is slow can be told from one who is gone.
#[derive(Debug, Clone, Default)]
pub(super) struct Taken(Arc<AtomicU64>);

impl Taken {
    /// So many bytes more.
    pub(super) fn add(&self, bytes: usize) {
        self.0.fetch_add(bytes as u64, Ordering::Relaxed);
    }

    /// All so far.
    pub(super) fn count(&self) -> u64 {
        self.0.load(Ordering::Relaxed)
    }
}

/// Writes until told that nothing follows, until every sender is gone, or until `output` fails.
pub(super) async fn write_all<O: AsyncWrite + Unpin>(mut queue: Receiver<Outgoing>, output: O, taken: Taken) {
    let mut output = tokio::io::BufWriter::new(output);
    while let Some(next) = queue.recv().await {
        let body = match next {
            Outgoing::Answer(response) => written::body(&response),
            Outgoing::Ask(request) => serde_json::to_vec(&request),
            Outgoing::Last => break,
        };
        // Both kinds are plain JSON trees, which always serialize; there is nobody to tell here.
        let Ok(body) = body else { continue };
        let header = format!("Content-Length: {}\r\n\r\n", body.len());
        let written = async {
            output.write_all(header.as_bytes()).await?;
            for piece in body.chunks(PIECE) {
                output.write_all(piece).await?;
                taken.add(piece.len());
            }
            // Messages that wait already are written together.
            if queue.is_empty() {
                output.flush().await?;
            }
            std::io::Result::Ok(())
        };
        if written.await.is_err() {
            return;
        }
    }
    // The client is gone if this fails, and the run is over anyway.
    let _ = output.flush().await;
}
