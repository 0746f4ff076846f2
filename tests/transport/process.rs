//! The transport over the standard input and output of a real process.
//!
//! The server is this test program, started again for the one test that serves. What the test
//! harness prints before it serves is passed over by the client.

use std::io::{BufRead, BufReader, Read, Write};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};
use std::time::{Duration, Instant};

use levare::desk::transport::{Limits, serve};
use serde_json::{Value, json};

use crate::client::{STUCK, frame, initialize};
use crate::desk::{ask, note};

/// Set for the process that is to serve.
const SERVES: &str = "LEVARE_TEST_SERVES";

#[test]
fn the_server() {
    // In the ordinary run of the tests this is nobody's server, and it checks nothing.
    if std::env::var_os(SERVES).is_none() {
        return;
    }
    let service = || {
        let (service, socket, _seen) = crate::desk::desk();
        (service, socket)
    };
    let ended = serve(service, Limits::default()).expect("the runtime starts");
    std::process::exit(i32::from(ended.status()));
}

struct Served {
    process: Child,
    to: Option<ChildStdin>,
    from: Option<BufReader<ChildStdout>>,
}

impl Drop for Served {
    fn drop(&mut self) {
        // Already gone, unless the test has failed.
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
}

impl Served {
    /// A served session after `initialize`, in which this is going on.
    fn busy(process_id: Option<u32>, methods: &[&str]) -> Self {
        let own = std::env::current_exe().expect("a path");
        let mut process = Command::new(own)
            .args(["process::the_server", "--exact", "--nocapture"])
            .env(SERVES, "1")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("a process");
        let mut served = Self {
            to: process.stdin.take(),
            from: process.stdout.take().map(BufReader::new),
            process,
        };
        served.send(&initialize(json!({ "processId": process_id })));
        assert!(served.answer(0).get("result").is_some());
        served.send(&note("initialized", json!({})));
        for (id, method) in (1..).zip(methods) {
            served.send(&ask(id, method));
        }
        served
    }

    fn send(&mut self, message: &Value) {
        let to = self.to.as_mut().expect("open");
        to.write_all(&frame(message)).expect("the process reads");
        to.flush().expect("the process reads");
    }

    /// The answer to a request; whatever comes before it is passed over.
    fn answer(&mut self, id: i64) -> Value {
        loop {
            let message = self.next();
            if message["id"] == json!(id) && message.get("method").is_none() {
                return message;
            }
        }
    }

    /// The next message.
    fn next(&mut self) -> Value {
        let from = self.from.as_mut().expect("open");
        loop {
            let mut line = String::new();
            assert_ne!(from.read_line(&mut line).expect("text"), 0, "it ended");
            let Some((_, length)) = line.trim_end().split_once("Content-Length: ") else {
                continue;
            };
            let length = length.parse().expect("a number");
            from.read_line(&mut line).expect("text");
            let mut body = String::new();
            from.take(length).read_to_string(&mut body).expect("text");
            return serde_json::from_str(&body).expect("JSON");
        }
    }

    /// The status of the process, which has a reason to end.
    fn status(&mut self) -> Option<i32> {
        let start = Instant::now();
        loop {
            if let Some(status) = self.process.try_wait().expect("waits") {
                return status.code();
            }
            assert!(start.elapsed() < STUCK, "the process does not end");
            std::thread::sleep(Duration::from_millis(5));
        }
    }
}

/// What may be going on when the end comes: nothing; more blocked threads than the machine has
/// processors; more blocking work than the runtime's pool takes (512 threads, tokio 1.54,
/// `Builder::max_blocking_threads`).
fn businesses() -> [Vec<&'static str>; 3] {
    let many = 4 * std::thread::available_parallelism().map_or(8, usize::from);
    [vec![], vec!["test/block"; many], vec!["test/blockApart"; 600]]
}

#[test]
fn exit_after_shutdown_is_status_0() {
    for methods in businesses() {
        let mut served = Served::busy(None, &methods);
        if methods.first() != Some(&"test/block") {
            // With every worker blocked nothing else can run, not even this.
            served.send(&ask(9000, "test/count"));
            assert_eq!(served.answer(9000)["result"], json!(0));
            served.send(&ask(9001, "shutdown"));
            assert_eq!(served.answer(9001)["result"], json!(null));
            served.send(&note("exit", Value::Null));
            assert_eq!(served.status(), Some(0));
        } else {
            served.send(&ask(9001, "shutdown"));
            served.send(&note("exit", Value::Null));
            assert_eq!(served.status(), Some(1));
        }
    }
}

#[test]
fn exit_without_shutdown_is_status_1() {
    for methods in businesses() {
        let mut served = Served::busy(None, &methods);
        served.send(&note("exit", Value::Null));
        assert_eq!(served.status(), Some(1));
    }
}

#[test]
fn the_end_of_input_is_status_1() {
    for methods in businesses() {
        let mut served = Served::busy(None, &methods);
        served.to = None;
        assert_eq!(served.status(), Some(1));
    }
}

#[test]
fn a_broken_output_is_status_1() {
    for methods in businesses() {
        let mut served = Served::busy(None, &methods);
        served.from = None;
        // It is noticed with the next thing to write, and this is answered by the reader itself.
        served.send(&json!({"jsonrpc": "2.0", "id": 9000}));
        assert_eq!(served.status(), Some(1));
    }
}

#[cfg(unix)]
#[test]
fn the_death_of_the_client_is_status_1() {
    for methods in businesses() {
        let mut client = Command::new("sleep").arg("600").spawn().expect("a process");
        let mut served = Served::busy(Some(client.id()), &methods);
        client.kill().expect("killed");
        client.wait().expect("gone");
        assert_eq!(served.status(), Some(1));
    }
}

#[test]
fn the_last_answers_leave_before_the_process_does() {
    let mut served = Served::busy(None, &[]);
    let text = "x".repeat(300_000);
    served.send(&json!({"jsonrpc": "2.0", "id": 1, "method": "test/echo", "params": text}));
    served.send(&ask(2, "shutdown"));
    served.send(&note("exit", Value::Null));
    // Requests never wait for one another, so either may be answered first.
    let mut answers = [served.next(), served.next()];
    answers.sort_by_key(|answer| answer["id"].as_i64());
    let [echo, shutdown] = answers;
    assert_eq!((&echo["id"], &echo["result"]), (&json!(1), &json!(text)));
    assert_eq!((&shutdown["id"], &shutdown["result"]), (&json!(2), &json!(null)));
    assert_eq!(served.status(), Some(0));
}
