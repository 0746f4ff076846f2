//! Watching the process that started the desk.
//!
//! The client names its process in `initialize`, and asks the server to end when that process is
//! no longer alive (Language Server Protocol 3.17, "Initialize Request", `processId`). The end of
//! standard input usually says so first; this is for the pipe that some other process still holds
//! open. A number may be given to another process after the client's death, and then this watch
//! is blind; nothing portable can tell.

use std::time::Duration;

use tokio::sync::oneshot;

/// How often the process is looked for.
const INTERVAL: Duration = Duration::from_secs(1);

/// Returns once the process whose number arrives on `named` is gone; never, if none arrives.
pub(super) async fn gone(named: oneshot::Receiver<i32>) {
    let Ok(process) = named.await else {
        return std::future::pending().await;
    };
    while alive(process) {
        tokio::time::sleep(INTERVAL).await;
    }
}

/// Whether a process of this number exists. Numbers that name no single process count as alive,
/// and so does a process that may not be signalled from here.
#[cfg(unix)]
fn alive(process: i32) -> bool {
    use rustix::process::{Pid, test_kill_process};
    if process <= 0 {
        return true;
    }
    let Some(process) = Pid::from_raw(process) else {
        return true;
    };
    test_kill_process(process) != Err(rustix::io::Errno::SRCH)
}

/// Elsewhere the end of standard input has to do.
#[cfg(not(unix))]
fn alive(_process: i32) -> bool {
    true
}

#[cfg(all(test, unix))]
mod tests {
    use super::*;

    #[test]
    fn living_and_dead() {
        let own = i32::try_from(std::process::id()).unwrap();
        assert!(alive(own));
        assert!(alive(1), "a process of another user, or our own");
        assert!(alive(0), "no single process");
        assert!(alive(-1), "no single process");
        let mut child = std::process::Command::new("true").spawn().unwrap();
        let number = i32::try_from(child.id()).unwrap();
        child.wait().unwrap();
        assert!(!alive(number));
    }
}
