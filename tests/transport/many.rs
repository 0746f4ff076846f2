//! Any mixture of good and bad: one answer to each request, and a session that lives.

use std::collections::HashMap;

use proptest::prelude::*;
use serde_json::{Value, json};

use crate::client::{Loop, Talk, code, frame, frame_of, on};
use crate::desk::{ask, cancel, note};

#[derive(Clone, Debug)]
enum Sent {
    /// A request by its place among these methods.
    Ask(usize),
    /// The same in a batch of two.
    Batch(usize, usize),
    /// Cancels the request so many before.
    Cancel(i64),
    Note(usize),
    /// A reply to nothing.
    Reply(i64),
    /// A frame whose body is these bytes, which are no message.
    Body(Vec<u8>),
    /// Bytes between frames.
    Bytes(Vec<u8>),
    /// A frame with a body over the cap.
    Long,
}

const ASKS: [&str; 9] = [
    "test/count",
    "test/countSlowly",
    "test/echo",
    "test/panic",
    "test/panicLater",
    "test/never",
    "test/unheardOf",
    "$/unheardOf",
    "textDocument/hover",
];
const NOTES: [(&str, i64); 5] = [
    ("test/note", 1),
    ("test/lateNote", 2),
    ("test/panicNote", 0),
    ("test/unheardOf", 0),
    ("$/unheardOf", 0),
];
const CAP: u32 = 20_000;

fn sent() -> impl Strategy<Value = Sent> {
    // Rubbish without colons and hyphens cannot pass for a header by chance.
    let byte = any::<u8>().prop_filter("a header's mark", |byte| !b":-".contains(byte));
    let rubbish = proptest::collection::vec(byte, 0..40);
    prop_oneof![
        6 => (0..ASKS.len()).prop_map(Sent::Ask),
        1 => (0..ASKS.len(), 0..ASKS.len()).prop_map(|(a, b)| Sent::Batch(a, b)),
        2 => (0..5_i64).prop_map(Sent::Cancel),
        3 => (0..NOTES.len()).prop_map(Sent::Note),
        1 => (-3..20_i64).prop_map(Sent::Reply),
        1 => rubbish.clone().prop_map(Sent::Body),
        1 => Just(Sent::Body(br#"{"jsonrpc":"2.0","id":{},"method":"test/count"}"#.to_vec())),
        1 => rubbish.prop_map(Sent::Bytes),
        1 => Just(Sent::Long),
    ]
}

/// The bytes of one thing sent; counts the requests in `last`.
fn bytes(sent: &Sent, last: &mut i64) -> Vec<u8> {
    let mut request = |method: &usize| {
        *last += 1;
        ask(*last, ASKS[*method])
    };
    match sent {
        Sent::Ask(method) => frame(&request(method)),
        Sent::Batch(one, other) => frame(&json!([request(one), request(other), 3])),
        Sent::Cancel(back) => frame(&cancel(*last - back)),
        Sent::Note(which) => frame(&note(NOTES[*which].0, json!(NOTES[*which].1))),
        Sent::Reply(id) => frame(&json!({"jsonrpc": "2.0", "id": id, "result": null})),
        Sent::Body(body) => frame_of(body),
        Sent::Bytes(bytes) => bytes.clone(),
        Sent::Long => frame_of(&vec![b'x'; CAP as usize + 1]),
    }
}

async fn talk_through(which: Loop, all: &[Sent]) {
    let limits = levare::desk::transport::Limits {
        body_bytes: CAP,
        ..Default::default()
    };
    let mut talk = Talk::begin_with(which, limits).await;
    let mut last = 0;
    let stream: Vec<u8> = all.iter().flat_map(|sent| bytes(sent, &mut last)).collect();
    // Whatever was never answered by itself is cancelled in the end.
    let cancels: Vec<u8> = (1..=last).flat_map(|id| frame(&cancel(id))).collect();
    let mut to = talk.to.take().expect("open");
    let sending = tokio::spawn(async move {
        use tokio::io::AsyncWriteExt;
        to.write_all(&stream).await?;
        to.write_all(b"\r\n\r\n").await?;
        to.write_all(&cancels).await.map(|()| to)
    });
    let mut answers: HashMap<i64, Value> = HashMap::new();
    while answers.len() < usize::try_from(last).unwrap() {
        let message = talk.receive().await.expect("the session lives");
        if message.get("method").is_none()
            && let Some(id) = message["id"].as_i64()
        {
            assert!((1..=last).contains(&id), "{message}");
            let before = answers.insert(id, message.clone());
            assert_eq!(before, None, "answered twice: {message}");
        }
    }
    talk.to = Some(sending.await.expect("sent").expect("sent"));
    talk.send(&ask(last + 1, "test/count")).await;
    // Nothing more comes before the last answer but complaints and lines in the log.
    loop {
        let message = talk.receive().await.expect("the session lives");
        match message["id"].as_i64() {
            Some(id) if message.get("method").is_none() => {
                assert_eq!(id, last + 1, "answered twice: {message}");
                assert_eq!(code(&message), None);
                break;
            }
            _ => {}
        }
    }
    talk.hang_up().await;
    assert_eq!(talk.ended().await.status(), 1);
    assert_eq!(talk.receive().await, None, "nothing is said after the end");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, ..ProptestConfig::default() })]
    #[test]
    fn one_answer_to_each_request(all in proptest::collection::vec(sent(), 0..60)) {
        on(Loop::Ours, |which| talk_through(which, &all));
    }
}
