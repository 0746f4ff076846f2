//! How a session ends. Each of these is answered by the framework's loop in its own time; what
//! counts here is that ours ends at all, whatever its handlers are doing.

use levare::desk::transport::{Ended, Limits, Reason};
use serde_json::{Value, json};

use crate::client::{Loop, Talk, code, frame, initialize, on};
use crate::desk::{ask, note};

/// What may be going on when the end comes.
const BUSY: [&str; 5] = ["nothing", "test/never", "test/block", "test/blockApart", "note"];

async fn busy(with: &str) -> Talk {
    let mut talk = Talk::begin(Loop::Ours).await;
    match with {
        "nothing" => {}
        "note" => {
            talk.send(&note("test/stuckNote", Value::Null)).await;
            talk.send(&ask(1, "test/count")).await;
        }
        method => talk.send(&ask(1, method)).await,
    }
    talk
}

#[test]
fn exit_ends_it_with_the_status_that_shutdown_decides() {
    on(Loop::Ours, |_| async {
        for with in BUSY {
            for shutdown in [true, false] {
                let mut talk = busy(with).await;
                // Behind a stuck notification even shutdown has no turn.
                let heard = shutdown && with != "note";
                if shutdown {
                    talk.send(&ask(2, "shutdown")).await;
                }
                talk.send(&note("exit", Value::Null)).await;
                let wanted = Ended {
                    reason: Reason::Exit,
                    shut_down: heard,
                };
                let ended = talk.ended().await;
                assert_eq!(ended, wanted, "{with}");
                assert_eq!(ended.status(), u8::from(!heard), "{with}");
            }
        }
    });
}

#[test]
fn the_end_of_input_ends_it() {
    on(Loop::Ours, |_| async {
        for with in BUSY {
            let mut talk = busy(with).await;
            talk.hang_up().await;
            let ended = talk.ended().await;
            assert_eq!(ended.reason, Reason::InputEnded, "{with}");
            assert_eq!(ended.status(), 1, "{with}");
        }
    });
}

#[test]
fn requests_that_the_end_finds_unanswered_are_answered() {
    on(Loop::Ours, |_| async {
        for (with, wanted) in [("test/never", -32800), ("note", -32800)] {
            let mut talk = busy(with).await;
            talk.send(&ask(2, "test/never")).await;
            talk.hang_up().await;
            let mut codes =
                [talk.receive().await, talk.receive().await].map(|answer| answer.as_ref().and_then(code));
            codes.sort_unstable();
            assert_eq!(codes, [Some(wanted); 2], "{with}");
            assert_eq!(talk.receive().await, None, "{with}");
        }
    });
}

#[test]
fn a_whole_session_piped_in_at_once_is_answered_whole() {
    on(Loop::Ours, |which| async move {
        let mut talk = Talk::open(which, Limits::default());
        let session = [
            initialize(json!({})),
            note("initialized", json!({})),
            note("test/lateNote", json!(2)),
            ask(1, "test/countSlowly"),
            ask(2, "shutdown"),
            note("exit", Value::Null),
        ];
        let bytes: Vec<u8> = session.iter().flat_map(frame).collect();
        talk.send_raw(&bytes).await;
        let mut answers = Vec::new();
        while let Some(answer) = talk.receive().await {
            answers.push(answer);
        }
        answers.sort_by_key(|answer| answer["id"].as_i64());
        assert_eq!(answers.len(), 3, "{answers:?}");
        assert_eq!(answers[1]["result"], json!(1));
        assert_eq!(answers[2]["result"], json!(null));
        assert_eq!(talk.ended().await.status(), 0);
    });
}

#[test]
fn an_output_that_breaks_ends_it() {
    on(Loop::Ours, |which| async move {
        let (service, socket, _seen) = crate::desk::desk();
        assert_eq!(which, Loop::Ours);
        let (mut to, input) = tokio::io::duplex(4096);
        let (output, from) = tokio::io::duplex(4096);
        let session = tokio::spawn(levare::desk::transport::run(
            service,
            socket,
            input,
            output,
            tokio::runtime::Handle::current(),
            Limits::default(),
        ));
        drop(from);
        use tokio::io::AsyncWriteExt;
        to.write_all(&frame(&initialize(json!({})))).await.unwrap();
        assert_eq!(session.await.unwrap().reason, Reason::OutputBroken);
    });
}

#[test]
fn initialize_that_never_returns_does_not_keep_it_from_ending() {
    on(Loop::Ours, |which| async move {
        let mut talk = Talk::open(which, Limits::default());
        let never = json!({"initializationOptions": "never"});
        talk.send(&initialize(never)).await;
        talk.send(&ask(1, "test/count")).await;
        talk.send(&note("exit", Value::Null)).await;
        assert_eq!(code(&talk.answer(0).await), Some(-32800));
        assert_eq!(talk.ended().await.reason, Reason::Exit);
    });
}

#[test]
fn a_handler_that_waits_for_a_reply_ends_with_the_session() {
    on(Loop::Ours, |_| async {
        let mut talk = busy("test/ask").await;
        talk.receive().await.expect("a request");
        talk.hang_up().await;
        let answer = talk.answer(1).await;
        let told = answer["result"] == json!(false) || code(&answer) == Some(-32800);
        assert!(told, "{answer}");
    });
}

#[cfg(unix)]
#[test]
fn the_death_of_the_client_ends_it() {
    on(Loop::Ours, |which| async move {
        for with in ["test/count", "test/blockApart"] {
            let mut client = std::process::Command::new("sleep")
                .arg("600")
                .spawn()
                .expect("a process");
            let mut talk = Talk::open(which, Limits::default());
            talk.send(&initialize(json!({"processId": client.id()}))).await;
            talk.answer(0).await;
            talk.send(&ask(1, with)).await;
            talk.lives().await;
            client.kill().expect("killed");
            client.wait().expect("gone");
            assert_eq!(talk.ended().await.reason, Reason::ClientGone);
        }
    });
}
