//! Rows about order, and about requests that wait.

use levare::desk::transport::Limits;
use serde_json::{Value, json};

use crate::client::{DEAF, Loop, Talk, code, frame, initialize, on, on_both};
use crate::desk::{ask, cancel, note};

const NOTES: i64 = 2000;

async fn note_all(talk: &mut Talk, method: &str) -> Vec<i64> {
    for number in 0..NOTES {
        talk.send(&note(method, json!(number))).await;
    }
    talk.lives().await;
    talk.seen.notes()
}

#[test]
fn d1_notifications_that_never_wait_keep_their_order_in_both() {
    on_both(|which| async move {
        let mut talk = Talk::begin(which).await;
        let notes = note_all(&mut talk, "test/note").await;
        assert!(notes.into_iter().eq(0..NOTES));
    });
}

#[test]
fn d2_notifications_that_give_way_keep_their_order() {
    on_both(|which| async move {
        let mut talk = Talk::begin(which).await;
        let notes = note_all(&mut talk, "test/lateNote").await;
        assert_eq!(notes.is_sorted(), which == Loop::Ours, "{which:?}");
        if which == Loop::Ours {
            assert!(notes.into_iter().eq(0..NOTES));
        }
    });
}

#[test]
fn a_request_sees_what_came_before_it_and_nothing_that_came_after() {
    for method in ["test/count", "test/countSlowly"] {
        on(Loop::Ours, |which| async move {
            let mut talk = Talk::begin(which).await;
            let mut bytes = Vec::new();
            for number in 0..300 {
                bytes.extend(frame(&note("test/lateNote", json!(number))));
                bytes.extend(frame(&ask(number + 1, method)));
            }
            let mut to = talk.to.take().expect("open");
            let sending = tokio::spawn(async move {
                use tokio::io::AsyncWriteExt;
                to.write_all(&bytes).await.map(|()| to)
            });
            for _ in 0..300 {
                let answer = talk.receive().await.expect("an answer");
                assert_eq!(answer["result"], answer["id"], "{method}");
            }
            talk.to = Some(sending.await.expect("sent").expect("sent"));
        });
    }
}

#[test]
fn e_notifications_behind_requests_that_wait() {
    on_both(|which| async move {
        let mut talk = Talk::begin(which).await;
        for id in 1..=4 {
            talk.send(&ask(id, "test/never")).await;
        }
        let mut bytes = Vec::new();
        for number in 0..400 {
            bytes.extend(frame(&note("test/note", json!(number))));
        }
        // The framework's loop stops reading, so that this never ends.
        let mut to = talk.to.take().expect("open");
        let sent = tokio::time::timeout(DEAF * 10, async {
            use tokio::io::AsyncWriteExt;
            to.write_all(&bytes).await
        });
        match which {
            Loop::Ours => {
                assert!(sent.await.is_ok());
                talk.to = Some(to);
                talk.lives().await;
                assert_eq!(talk.seen.notes().len(), 400);
            }
            Loop::Frameworks => {
                assert!(tokio::time::timeout(DEAF, sent).await.is_err());
                assert_eq!(talk.seen.notes().len(), 0);
            }
        }
    });
}

#[test]
fn e_hundreds_of_requests_wait_and_each_can_be_cancelled() {
    on(Loop::Ours, |which| async move {
        let mut talk = Talk::begin(which).await;
        for id in 1..=800 {
            talk.send(&ask(id, "test/never")).await;
        }
        talk.lives().await;
        for id in (1..=800).rev() {
            talk.send(&cancel(id)).await;
            assert_eq!(code(&talk.answer(id).await), Some(-32800));
        }
    });
}

#[test]
fn e2_a_cancellation_behind_four_requests_that_wait() {
    on_both(|which| async move {
        let mut talk = Talk::begin(which).await;
        for id in 1..=4 {
            talk.send(&ask(id, "test/never")).await;
        }
        talk.send(&cancel(2)).await;
        match which {
            Loop::Ours => assert_eq!(code(&talk.answer(2).await), Some(-32800)),
            Loop::Frameworks => assert_eq!(talk.answer_in(2, DEAF).await, None),
        }
    });
}

#[test]
fn a_request_that_has_not_had_its_turn_can_be_cancelled() {
    on(Loop::Ours, |which| async move {
        let mut talk = Talk::begin(which).await;
        // The block keeps the note from starting, and the note keeps the last request.
        talk.send(&ask(1, "test/block")).await;
        talk.send(&note("test/note", json!(1))).await;
        talk.send(&ask(2, "test/never")).await;
        talk.send(&cancel(2)).await;
        talk.seen.release();
        assert_eq!(code(&talk.answer(2).await), Some(-32800));
    });
}

#[test]
fn too_many_requests_are_turned_away() {
    on(Loop::Ours, |which| async move {
        let limits = Limits {
            waiting_requests: 10,
            ..Limits::default()
        };
        let mut talk = Talk::begin_with(which, limits).await;
        for id in 1..=11 {
            talk.send(&ask(id, "test/never")).await;
        }
        assert_eq!(code(&talk.answer(11).await), Some(-32803));
        talk.send(&cancel(1)).await;
        talk.answer(1).await;
        talk.lives().await;
    });
}

#[test]
fn too_many_bytes_of_requests_are_turned_away() {
    on(Loop::Ours, |which| async move {
        let limits = Limits {
            queued_bytes: 50_000,
            ..Limits::default()
        };
        let mut talk = Talk::begin_with(which, limits).await;
        let mut big = ask(1, "test/never");
        big["params"] = Value::Null;
        big["padding"] = json!("x".repeat(30_000));
        talk.send(&big).await;
        big["id"] = json!(2);
        talk.send(&big).await;
        assert_eq!(code(&talk.answer(2).await), Some(-32803));
        talk.lives().await;
    });
}

#[test]
fn a_client_that_does_not_wait_for_initialize_is_heard() {
    on_both(|which| async move {
        let mut talk = Talk::open(which, Limits::default());
        let slow = json!({"initializationOptions": "slow"});
        talk.send(&initialize(slow)).await;
        talk.send(&note("initialized", json!({}))).await;
        talk.send(&note("test/note", json!(7))).await;
        talk.send(&ask(1, "test/count")).await;
        let answer = talk.answer(1).await;
        match which {
            Loop::Ours => assert_eq!(answer["result"], json!(1)),
            Loop::Frameworks => assert_eq!(code(&answer), Some(-32002)),
        }
    });
}

#[test]
fn a_request_behind_initialize_can_be_cancelled() {
    on(Loop::Ours, |which| async move {
        let mut talk = Talk::open(which, Limits::default());
        let slow = json!({"initializationOptions": "slow"});
        talk.send(&initialize(slow)).await;
        talk.send(&ask(1, "test/never")).await;
        talk.send(&cancel(1)).await;
        assert_eq!(code(&talk.answer(1).await), Some(-32800));
    });
}

#[test]
fn a_request_before_initialize_is_refused_by_both() {
    on_both(|which| async move {
        let mut talk = Talk::open(which, Limits::default());
        talk.send(&ask(1, "test/count")).await;
        assert_eq!(code(&talk.answer(1).await), Some(-32002));
    });
}

#[test]
fn a_client_that_reads_late_gets_everything() {
    on(Loop::Ours, |which| async move {
        let mut talk = Talk::begin(which).await;
        // Far more than the pipe and the queue hold is written before anything is read.
        for id in 1..=2000 {
            talk.send(&ask(id, "test/count")).await;
        }
        talk.send(&ask(2001, "test/manyLogs")).await;
        let mut seen = vec![false; 2002];
        while let Some(index) = seen.iter().skip(1).position(|&seen| !seen) {
            let message = talk
                .receive()
                .await
                .unwrap_or_else(|| panic!("no answer to {index}"));
            if let Some(id) = message["id"].as_u64() {
                let slot = &mut seen[usize::try_from(id).unwrap()];
                assert!(!std::mem::replace(slot, true), "{id} twice");
            }
        }
    });
}
