//! Streams, and what is read from them.

use super::*;

const CAP: usize = 100;

/// Bodies as text, `<long N>` and `<garbage>` for the rest, in the order they came.
fn read(stream: &[u8]) -> Vec<String> {
    let runtime = tokio::runtime::Builder::new_current_thread().build().unwrap();
    runtime.block_on(async {
        let mut frames = FrameReader::new(stream, CAP);
        let mut seen = Vec::new();
        loop {
            match frames.next().await {
                Frame::End => return seen,
                Frame::Body(body) => seen.push(String::from_utf8_lossy(&body).into_owned()),
                Frame::TooLong { bytes, .. } => seen.push(format!("<long {bytes}>")),
                Frame::Garbage => seen.push("<garbage>".to_owned()),
            }
        }
    })
}

#[test]
fn frames_and_what_comes_between_them() {
    let good = "Content-Length: 2\r\n\r\n{}";
    let long = "x".repeat(101);
    let flood = "y".repeat(50_000);
    let many = "X-A: b\r\n".repeat(30);
    let endless = "X-A: b\r\n".repeat(3000);
    let table: &[(&str, String, &[&str])] = &[
        ("plain", format!("{good}{good}"), &["{}", "{}"]),
        ("lower case", "content-length: 2\r\n\r\n{}".into(), &["{}"]),
        (
            "odd case and spaces",
            "CONTENT-length  :   2  \r\n\r\n{}".into(),
            &["{}"],
        ),
        ("bare line feeds", "Content-Length: 2\n\n{}".into(), &["{}"]),
        (
            "type without charset, after",
            "Content-Length: 2\r\nContent-Type: application/vscode-jsonrpc\r\n\r\n{}".into(),
            &["{}"],
        ),
        ("thirty headers before", format!("{many}{good}"), &["{}"]),
        ("empty body", "Content-Length: 0\r\n\r\n".into(), &[""]),
        (
            "empty lines between frames",
            format!("{good}\r\n\r\n\n{good}"),
            &["{}", "{}"],
        ),
        (
            "a header whose name only ends the same way",
            format!("X-Content-Length: 77\r\n{good}"),
            &["{}"],
        ),
        ("rubbish line before", format!("hello there\r\n{good}"), &["{}"]),
        ("rubbish glued before", format!("}}}}{good}"), &["{}"]),
        (
            "rubbish section",
            format!("hello\r\n\r\n{good}"),
            &["<garbage>", "{}"],
        ),
        (
            "several rubbish sections are told once",
            format!("a\r\n\r\nb\r\n\r\nc\r\n\r\n{good}"),
            &["<garbage>", "{}"],
        ),
        (
            "a body longer than declared",
            format!("Content-Length: 2\r\n\r\n{{}}...{good}"),
            &["{}", "{}"],
        ),
        (
            "a flood without an end of line",
            format!("{flood}{good}"),
            &["{}"],
        ),
        (
            "a header section without an end",
            format!("{endless}\r\n{good}"),
            &["<garbage>", "{}"],
        ),
        (
            "length is a word",
            format!("Content-Length: two\r\n\r\n{{}}{good}"),
            &["<garbage>", "{}"],
        ),
        (
            "length is negative",
            format!("Content-Length: -2\r\n\r\n{{}}{good}"),
            &["<garbage>", "{}"],
        ),
        (
            "no length",
            format!("Content-Type: x\r\n\r\n{{}}{good}"),
            &["<garbage>", "{}"],
        ),
        (
            "over the cap",
            format!("Content-Length: 101\r\n\r\n{long}{good}"),
            &["<long 101>", "{}"],
        ),
        (
            "a length announced that is none, and what follows",
            format!("Content-Length: 90\r\n\r\n{{}}{good}{good}"),
            &["{}", "{}", "{}"],
        ),
        (
            "the same over the cap, with a header before",
            format!("Content-Length: 3000000000\r\n\r\n{{}}\r\nX-A: b\r\n{good}{good}"),
            &["{}\r\nX-A: b\r\n", "{}", "{}"],
        ),
        (
            "and a body that is too long anyhow",
            format!("Content-Length: 3000000000\r\n\r\n{flood}{good}{good}"),
            &["<long 3000000000>", "{}", "{}"],
        ),
        (
            "a body may have lines, and speak of lengths",
            "Content-Length: 28\r\n\r\n{\r\n\"Content-Length: 5\\r\\n\"\n}\r\n".into(),
            &["{\r\n\"Content-Length: 5\\r\\n\"\n}"],
        ),
        (
            "no client means that length",
            format!("Content-Length: 99999999999\r\n\r\n{good}"),
            &["<garbage>", "{}"],
        ),
        (
            "more digits than a number holds",
            format!("Content-Length: 99999999999999999999999\r\n\r\n{good}"),
            &["<garbage>", "{}"],
        ),
        (
            "cut off in the body",
            format!("{good}Content-Length: 9\r\n\r\n{{"),
            &["{}"],
        ),
        ("cut off in the header", format!("{good}Content-Le"), &["{}"]),
        ("nothing", String::new(), &[]),
    ];
    for (name, stream, wanted) in table {
        assert_eq!(read(stream.as_bytes()), *wanted, "{name}");
    }
}

#[test]
fn bytes_that_are_no_text_pass_through_to_the_body() {
    assert_eq!(read(b"\xff\xfe\r\n\r\nContent-Length: 1\r\n\r\n\xff").len(), 2);
}
