//! The transport over standard input and output.
//!
//! Both are read and written by threads of their own. The runtime's pool of blocking threads has
//! a limit, and handlers that fill it must not be able to stop the reading.

use std::io::{self, Read, Write};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::thread;
use std::time::Duration;

use tokio::io::{AsyncReadExt, AsyncWriteExt, DuplexStream, duplex};
use tokio::runtime::{Builder, Handle};
use tokio::sync::oneshot;
use tower_lsp::{ClientSocket, LanguageServer, LspService};

use super::writer::Taken;
use super::{Ended, Limits, Reason, run};

/// The size of the pipes between the threads and the transport, and of one read, in bytes.
const PIPE: usize = 64 * 1024;
/// The fewest threads for handlers.
const LEAST_WORKERS: usize = 4;
/// How long the last bytes may take to leave.
const LAST_BYTES: Duration = Duration::from_millis(800);

/// Serves the client at standard input and output, and blocks until the session has ended.
///
/// `make` builds the service; it runs inside the runtime on which the handlers will run. The
/// caller should leave the process with [`Ended::status`] at once: handlers that were still
/// running are not waited for.
///
/// # Errors
///
/// When the runtime or a thread cannot be made.
pub fn serve<S, F>(make: F, limits: Limits) -> io::Result<Ended>
where
    S: LanguageServer,
    F: FnOnce() -> (LspService<S>, ClientSocket),
{
    // A handler that never gives way must not stop the others on a small machine either.
    let threads = thread::available_parallelism().map_or(1, usize::from);
    let workers = Builder::new_multi_thread()
        .worker_threads(threads.max(LEAST_WORKERS))
        .thread_name("desk-worker")
        .enable_all()
        .build()?;
    let own = Builder::new_current_thread().enable_all().build()?;

    let input = pump_in(own.handle().clone())?;
    let taken = Taken::default();
    let (output, broken, drained) = pump_out(own.handle().clone(), taken.clone())?;
    let (service, socket) = {
        let _inside = workers.enter();
        make()
    };
    let ended = own.block_on(async {
        tokio::select! {
            ended = run(service, socket, input, output, workers.handle().clone(), limits) => ended,
            Ok(()) = broken => Ended { reason: Reason::OutputBroken, shut_down: false },
        }
    });
    // The last bytes may still be on their way; if they are stuck, so be it.
    if ended.reason != Reason::OutputBroken {
        let mut before = taken.count();
        while drained.recv_timeout(LAST_BYTES) == Err(RecvTimeoutError::Timeout) {
            let now = taken.count();
            if now == before {
                break;
            }
            before = now;
        }
    }
    workers.shutdown_background();
    own.shutdown_background();
    Ok(ended)
}

/// Standard input, as the transport reads it.
fn pump_in(runtime: Handle) -> io::Result<DuplexStream> {
    let (near, mut far) = duplex(PIPE);
    let pump = move || {
        let mut input = io::stdin().lock();
        let mut bytes = vec![0; PIPE];
        loop {
            let read = match input.read(&mut bytes) {
                Ok(0) => return,
                Ok(read) => bytes.get(..read).unwrap_or_default(),
                Err(error) if error.kind() == io::ErrorKind::Interrupted => continue,
                Err(_) => return,
            };
            if runtime.block_on(far.write_all(read)).is_err() {
                return;
            }
        }
    };
    thread::Builder::new().name("desk-input".to_owned()).spawn(pump)?;
    Ok(near)
}

/// Standard output, as the transport writes it; a word if it breaks; a word when all is written.
fn pump_out(
    runtime: Handle,
    taken: Taken,
) -> io::Result<(DuplexStream, oneshot::Receiver<()>, Receiver<()>)> {
    let (near, mut far) = duplex(PIPE);
    let (breaks, broken) = oneshot::channel();
    let (drains, drained) = channel();
    let pump = move || {
        let mut output = io::stdout().lock();
        let mut bytes = vec![0; PIPE];
        loop {
            let read = match runtime.block_on(far.read(&mut bytes)) {
                Ok(read) if read > 0 => bytes.get(..read).unwrap_or_default(),
                // Nobody waits for the word if the run is over.
                _ => return drains.send(()).unwrap_or_default(),
            };
            if output.write_all(read).and_then(|()| output.flush()).is_err() {
                return breaks.send(()).unwrap_or_default();
            }
            taken.add(read.len());
        }
    };
    thread::Builder::new()
        .name("desk-output".to_owned())
        .spawn(pump)?;
    Ok((near, broken, drained))
}
