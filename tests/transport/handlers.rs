//! Rows about handlers: one that misbehaves must not take others with it.

use serde_json::json;

use crate::client::{DEAF, Loop, STUCK, Talk, code, on, on_both};
use crate::desk::{ask, cancel, note};

/// The request is answered with -32603 by ours, and ends the framework's session.
fn panicking(method: &'static str) {
    on_both(|which| async move {
        let mut talk = Talk::begin(which).await;
        talk.send(&ask(1, method)).await;
        if which == Loop::Ours {
            assert_eq!(code(&talk.answer(1).await), Some(-32603));
            // The id is free again.
            talk.send(&ask(1, "test/count")).await;
            assert_eq!(talk.answer(1).await["result"], json!(0));
            talk.lives().await;
        } else {
            assert!(talk.has_panicked().await);
        }
    });
}

#[test]
fn c_a_request_that_panics_at_once() {
    panicking("test/panic");
}

#[test]
fn c_a_request_that_panics_later() {
    panicking("test/panicLater");
}

#[test]
fn c_a_notification_that_panics() {
    on_both(|which| async move {
        let mut talk = Talk::begin(which).await;
        talk.send(&note("test/panicNote", json!(null))).await;
        if which == Loop::Ours {
            let log = talk.receive().await.expect("a line in the log");
            assert_eq!(log["method"], "window/logMessage");
            let text = log["params"]["message"].as_str().expect("a text");
            assert!(text.contains("test/panicNote"), "{text}");
            talk.lives().await;
        } else {
            assert!(talk.has_panicked().await);
        }
    });
}

#[test]
fn c_initialize_that_panics_can_be_tried_again() {
    on(Loop::Ours, |which| async move {
        let mut talk = Talk::open(which, levare::desk::transport::Limits::default());
        let planted = json!({"initializationOptions": "panic"});
        talk.send(&crate::client::initialize(planted)).await;
        assert_eq!(code(&talk.answer(0).await), Some(-32603));
        talk.send(&crate::client::initialize(json!({}))).await;
        assert!(talk.answer(0).await.get("result").is_some());
        talk.lives().await;
    });
}

#[test]
fn c2_a_panic_on_a_thread_of_the_pool_is_caught_by_both() {
    on_both(|which| async move {
        let mut talk = Talk::begin(which).await;
        talk.send(&ask(1, "test/panicApart")).await;
        assert_eq!(talk.answer(1).await["result"], json!(true));
        talk.lives().await;
    });
}

#[test]
fn i_blocking_work_that_is_cancelled_is_answered_by_both() {
    on_both(|which| async move {
        let mut talk = Talk::begin(which).await;
        talk.send(&ask(1, "test/blockApart")).await;
        talk.send(&cancel(1)).await;
        assert_eq!(code(&talk.answer(1).await), Some(-32800));
        talk.lives().await;
    });
}

#[test]
fn j_a_handler_that_never_gives_way() {
    on_both(|which| async move {
        let mut talk = Talk::begin(which).await;
        talk.send(&ask(1, "test/block")).await;
        talk.lives_if(which == Loop::Ours).await;
        talk.seen.release();
        assert!(talk.answer(1).await.get("result").is_some());
    });
}

#[test]
fn k_answers_of_both_overtake_one_another() {
    on_both(|which| async move {
        let mut talk = Talk::begin(which).await;
        talk.send(&ask(1, "test/blockApart")).await;
        talk.send(&ask(2, "test/count")).await;
        assert!(talk.answer(2).await.get("result").is_some());
        talk.seen.release();
        assert!(talk.answer(1).await.get("result").is_some());
    });
}

#[test]
fn l_wrong_params_are_refused_by_both() {
    on_both(|which| async move {
        let mut talk = Talk::begin(which).await;
        let mut hover = ask(1, "textDocument/hover");
        hover["params"] = json!({"textDocument": 4});
        talk.send(&hover).await;
        assert_eq!(code(&talk.answer(1).await), Some(-32602));
        talk.send(&note("test/note", json!({"wrong": true}))).await;
        talk.lives().await;
    });
}

#[test]
fn m_a_request_after_shutdown_is_refused_by_both() {
    on_both(|which| async move {
        let mut talk = Talk::begin(which).await;
        talk.send(&ask(1, "shutdown")).await;
        assert_eq!(talk.answer(1).await["result"], json!(null));
        talk.send(&ask(2, "test/count")).await;
        assert_eq!(code(&talk.answer(2).await), Some(-32600));
    });
}

#[test]
fn a_request_that_is_optional_and_unknown_is_answered() {
    on_both(|which| async move {
        let mut talk = Talk::begin(which).await;
        talk.send(&ask(1, "$/unheardOf")).await;
        match which {
            Loop::Ours => assert_eq!(code(&talk.answer(1).await), Some(-32601)),
            // The protocol wants an error; the framework takes it for a notification.
            Loop::Frameworks => assert_eq!(talk.answer_in(1, DEAF).await, None),
        }
        talk.send(&note("$/unheardOf", json!({}))).await;
        talk.lives().await;
    });
}

#[test]
fn a_reply_of_the_client_reaches_the_handler_that_waits() {
    let replies = [
        (json!({"result": []}), true, true),
        (json!({"error": {"code": 1, "message": "no"}}), false, true),
        // The framework cannot read these two, and ends the session.
        (
            json!({"error": {"code": 1, "message": "no", "more": 1}}),
            false,
            false,
        ),
        (json!({}), true, false),
    ];
    for (reply, good, framework_lives) in replies {
        on_both(|which| {
            let mut reply = reply.clone();
            async move {
                let mut talk = Talk::begin(which).await;
                talk.send(&ask(1, "test/ask")).await;
                let asked = talk.receive().await.expect("a request");
                assert_eq!(asked["method"], "workspace/workspaceFolders");
                reply["jsonrpc"] = json!("2.0");
                reply["id"] = asked["id"].clone();
                talk.send(&reply).await;
                let lives = which == Loop::Ours || framework_lives;
                let wait = if lives { STUCK } else { DEAF };
                let answer = talk.answer_in(1, wait).await;
                let wanted = lives.then(|| json!(good));
                assert_eq!(answer.map(|answer| answer["result"].clone()), wanted, "{reply}");
            }
        });
    }
}
