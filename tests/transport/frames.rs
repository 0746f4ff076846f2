//! Rows about the bytes: what is no message must not end the session.

use levare::desk::transport::Limits;
use serde_json::{Value, json};

use crate::client::{Loop, Talk, code, frame_of, on, on_both};
use crate::desk::ask;

/// Sends bytes, wants these codes of answers without an id from ours, and shows that the framework's does not live on.
fn bad_bytes(bytes: &[u8], codes: &[i64]) {
    on_both(|which| async move {
        let mut talk = Talk::begin(which).await;
        talk.send_raw(bytes).await;
        if which == Loop::Ours {
            for wanted in codes {
                let answer = talk.receive().await.expect("an answer");
                assert_eq!(answer["id"], Value::Null, "{answer}");
                assert_eq!(code(&answer), Some(*wanted), "{answer}");
            }
        }
        talk.lives_if(which == Loop::Ours).await;
    });
}

#[test]
fn a_a_body_that_is_not_json() {
    bad_bytes(&frame_of(b"{not json"), &[-32700]);
}

#[test]
fn b_a_body_that_is_not_utf8() {
    bad_bytes(&frame_of(b"{\"a\":\"\xff\"}"), &[-32700]);
}

#[test]
fn b_many_bad_bodies_in_a_row() {
    bad_bytes(&frame_of(b"?").repeat(3), &[-32700; 3]);
}

#[test]
fn g_a_content_type_without_a_charset() {
    let body = ask(1, "test/count").to_string();
    let head = format!("Content-Length: {}\r\n", body.len());
    let frame = format!("{head}Content-Type: application/vscode-jsonrpc\r\n\r\n{body}");
    good_frame(frame.as_bytes());
}

#[test]
fn g_three_headers() {
    let body = ask(1, "test/count").to_string();
    let head = format!("X-One: 1\r\nContent-Length: {}\r\nX-Two: 2\r\n", body.len());
    good_frame(format!("{head}\r\n{body}").as_bytes());
}

#[test]
fn g_a_header_in_lower_case() {
    let body = ask(1, "test/count").to_string();
    good_frame(format!("content-length: {}\r\n\r\n{body}", body.len()).as_bytes());
}

/// Sends a frame that holds request 1, which ours answers and the framework's does not.
fn good_frame(frame: &[u8]) {
    on_both(|which| async move {
        let mut talk = Talk::begin(which).await;
        talk.send_raw(frame).await;
        if which == Loop::Ours {
            let answer = talk.answer(1).await;
            assert_eq!(answer["result"], json!(0));
        }
        talk.lives_if(which == Loop::Ours).await;
    });
}

#[test]
fn n_a_length_that_no_client_means() {
    bad_bytes(b"Content-Length: 99999999999\r\n\r\n", &[-32700]);
}

#[test]
fn n_a_body_over_the_cap_is_passed_over() {
    on(Loop::Ours, |which| async move {
        let limits = Limits {
            body_bytes: 10_000,
            ..Limits::default()
        };
        let mut talk = Talk::begin_with(which, limits).await;
        talk.send_raw(&frame_of(&[b'x'; 10_001])).await;
        let answer = talk.receive().await.expect("an answer");
        assert_eq!(code(&answer), Some(-32600), "{answer}");
        talk.lives().await;
    });
}

#[test]
fn rubbish_between_frames() {
    bad_bytes(b"listening on port 4\r\n\r\n", &[-32700]);
}

#[test]
fn a_body_longer_than_its_length_says() {
    // What is left over is glued to the next header. The framework takes it for a header.
    bad_bytes(b"Content-Length: 2\r\n\r\n{}}}", &[-32600]);
}

#[test]
fn json_that_is_no_message() {
    bad_bytes(&frame_of(b"{}"), &[-32600]);
    bad_bytes(&frame_of(b"[]"), &[-32600]);
    bad_bytes(&frame_of(b"[1,2,3]"), &[-32600]);
}

#[test]
fn a_request_of_the_wrong_version_is_answered_under_its_id() {
    on(Loop::Ours, |which| async move {
        let mut talk = Talk::begin(which).await;
        talk.send(&json!({"jsonrpc": "1.0", "id": 5, "method": "test/count"}))
            .await;
        assert_eq!(code(&talk.answer(5).await), Some(-32600));
    });
}

#[test]
fn a_batch_is_taken_member_by_member() {
    on_both(|which| async move {
        let mut talk = Talk::begin(which).await;
        let batch = json!([
            {"jsonrpc": "2.0", "method": "test/note", "params": 1},
            ask(1, "test/count"),
            {"jsonrpc": "2.0", "method": "test/note", "params": 2},
            ask(2, "test/count"),
        ]);
        talk.send(&batch).await;
        if which == Loop::Ours {
            let mut counts = [talk.receive().await, talk.receive().await]
                .map(|answer| answer.expect("an answer")["result"].as_i64());
            counts.sort_unstable();
            assert_eq!(counts, [Some(1), Some(2)]);
        }
        talk.lives_if(which == Loop::Ours).await;
    });
}
