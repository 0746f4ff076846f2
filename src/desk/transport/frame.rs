//! Cutting a stream of bytes into message bodies, and finding the way back after anything else.
//!
//! A frame is a header section, an empty line, and a body of the declared length (Language Server
//! Protocol 3.17, "Header Part"). Header names are compared without case, there may be any number
//! of headers, and a bare line feed ends a line as well as the pair the protocol asks for.
//!
//! Whatever does not fit is passed over without being kept: a body over the cap is skipped as it
//! streams by, a body that turns out shorter than was announced ends where the next length is declared, and between frames bytes are dropped until a length is declared again, even when
//! that declaration is glued to the end of the rubbish (which is what a client that counted its
//! characters instead of its bytes leaves behind).

use tokio::io::{AsyncBufReadExt, AsyncRead, BufReader};

/// The longest header section, in bytes, that is read as one.
const MAX_HEADERS: usize = 8 * 1024;
/// The longest line, in bytes, of which the whole is kept.
const MAX_LINE: usize = 4 * 1024;
/// How much of the end of a longer line is kept, in bytes: room for a glued length declaration.
const LINE_TAIL: usize = 64;
/// No client means a body of more bytes than this. A larger length is a mistake in the header and
/// not a body to wait for.
const PLAUSIBLE: u64 = 4 * 1024 * 1024 * 1024;
/// How much of each end of a body is kept that is too long, in bytes.
const END: usize = 4 * 1024;
/// The header that declares a length.
const NAME: &[u8] = b"content-length";
/// How much room is made for a body before its bytes have arrived.
const FIRST_ROOM: usize = 64 * 1024;

/// What the stream held next.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Frame {
    /// A body, complete, not yet looked at.
    Body(Vec<u8>),
    /// A body over the cap, which was skipped.
    TooLong {
        /// How many bytes were announced.
        bytes: u64,
        /// Its first bytes and its last.
        ends: Vec<u8>,
    },
    /// Bytes that are no frame. Told once for each stretch of them.
    Garbage,
    /// The stream has ended, perhaps in the middle of a frame.
    End,
}

/// One header section.
enum Section {
    Length(u64),
    NoLength,
    End,
}

/// Reads frames from `R` with at most one body in memory.
pub(super) struct FrameReader<R> {
    input: BufReader<R>,
    max_body: usize,
    /// A length that was declared in the middle of a body, whose own length was wrong then.
    declared: Option<u64>,
    lost: bool,
}

impl<R: AsyncRead + Unpin> FrameReader<R> {
    /// Reads `input`; bodies over `max_body` bytes are skipped.
    pub(super) fn new(input: R, max_body: usize) -> Self {
        Self {
            input: BufReader::new(input),
            max_body,
            declared: None,
            lost: false,
        }
    }

    /// The next frame. A read error counts as the end of the stream.
    pub(super) async fn next(&mut self) -> Frame {
        loop {
            match self.section().await {
                Section::End => return Frame::End,
                Section::Length(length) if length <= PLAUSIBLE => {
                    self.lost = false;
                    return self.body(length).await;
                }
                Section::Length(_) | Section::NoLength => {
                    if !self.lost {
                        self.lost = true;
                        return Frame::Garbage;
                    }
                }
            }
        }
    }

    /// The body of the announced length. Where a length is declared in the middle of it, the announced one was
    /// wrong: no JSON text holds such a line, since a line break inside its quotation marks is written as `\n`.
    /// Then the body ends there, and nothing that follows it is lost.
    async fn body(&mut self, length: u64) -> Frame {
        let room = usize::try_from(length).unwrap_or(FIRST_ROOM).min(FIRST_ROOM);
        let mut body = Vec::with_capacity(room.min(self.max_body));
        let mut is_long = false;
        let mut line: Vec<u8> = Vec::new();
        let mut left = length;
        while left > 0 {
            let Ok(chunk) = self.input.fill_buf().await else {
                return Frame::End;
            };
            if chunk.is_empty() {
                return Frame::End;
            }
            let most = usize::try_from(left).unwrap_or(usize::MAX).min(chunk.len());
            let chunk = chunk.get(..most).unwrap_or(chunk);
            let end = chunk.iter().position(|&byte| byte == b'\n').map(|at| at + 1);
            let part = chunk.get(..end.unwrap_or(chunk.len())).unwrap_or(chunk);
            let passed = part.len();
            body.extend_from_slice(part);
            line.extend_from_slice(part.get(passed.saturating_sub(LINE_TAIL)..).unwrap_or(part));
            line.drain(..line.len().saturating_sub(LINE_TAIL));
            if body.len() > self.max_body || is_long {
                keep_ends(&mut body);
                is_long = true;
            }
            self.input.consume(passed);
            left -= passed as u64;
            if end.is_some() {
                if let Some((before, declared)) = split_at_declared(&line) {
                    self.declared = Some(declared);
                    body.truncate(body.len().saturating_sub(line.len() - before));
                    break;
                }
                line.clear();
            }
        }
        match is_long {
            true => Frame::TooLong {
                bytes: length,
                ends: body,
            },
            false => Frame::Body(body),
        }
    }

    async fn section(&mut self) -> Section {
        let mut length = self.declared.take();
        let mut seen = usize::from(length.is_some());
        loop {
            let Some((line, bytes)) = self.line().await else {
                return Section::End;
            };
            if line.is_empty() {
                match (seen, length) {
                    // A stray empty line between frames harms nobody.
                    (0, _) => continue,
                    (_, Some(length)) => return Section::Length(length),
                    (_, None) => return Section::NoLength,
                }
            }
            seen = seen.saturating_add(bytes);
            if let Some(declared) = declared_length(&line) {
                length = declared;
            } else if seen > MAX_HEADERS {
                return Section::NoLength;
            }
        }
    }

    /// The next line without its ending, and how many bytes it had; only the tail of a long one.
    async fn line(&mut self) -> Option<(Vec<u8>, usize)> {
        let mut line = Vec::new();
        let mut bytes = 0_usize;
        loop {
            let chunk = self.input.fill_buf().await.ok()?;
            if chunk.is_empty() {
                return None;
            }
            let end = chunk.iter().position(|&byte| byte == b'\n');
            let part = chunk.get(..end.unwrap_or(chunk.len())).unwrap_or(chunk);
            line.extend_from_slice(part);
            let passed = part.len() + usize::from(end.is_some());
            bytes = bytes.saturating_add(passed);
            self.input.consume(passed);
            if line.len() > MAX_LINE {
                line.drain(..line.len() - LINE_TAIL);
            }
            if end.is_some() {
                if line.last() == Some(&b'\r') {
                    line.pop();
                }
                return Some((line, bytes));
            }
        }
    }
}

/// Of a body that is too long only the two ends are kept, which may tell what it was about.
fn keep_ends(body: &mut Vec<u8>) {
    if body.len() > 3 * END {
        let last = body.len() - END;
        body.drain(END..last);
    }
}

/// How many bytes of a line stand before the length that it declares, and that length.
fn split_at_declared(line: &[u8]) -> Option<(usize, u64)> {
    let line = line.strip_suffix(b"\n")?;
    let line = line.strip_suffix(b"\r").unwrap_or(line);
    let length = declared_length(line)??;
    let start = (0..line.len()).rev().find(|&at| {
        line.get(at..at + NAME.len())
            .is_some_and(|part| part.eq_ignore_ascii_case(NAME))
    })?;
    (length <= PLAUSIBLE).then_some((start, length))
}

/// The length that a line declares: `None` if the line speaks of something else, `Some(None)` if
/// it declares a length that is no number.
///
/// The header's name may follow directly on rubbish, but not on what makes it the end of another
/// header's name (`X-Content-Length`).
fn declared_length(line: &[u8]) -> Option<Option<u64>> {
    let start = (0..line.len()).rev().find(|&at| {
        line.get(at..at + NAME.len())
            .is_some_and(|part| part.eq_ignore_ascii_case(NAME))
    })?;
    let before = line.get(..start)?;
    let named_on = before.first().is_some_and(u8::is_ascii_alphabetic)
        && before.ends_with(b"-")
        && before
            .iter()
            .all(|byte| byte.is_ascii_alphanumeric() || *byte == b'-');
    if named_on {
        return None;
    }
    let rest = line.get(start + NAME.len()..)?.trim_ascii_start();
    let digits = rest.strip_prefix(b":")?.trim_ascii();
    if digits.is_empty() || !digits.iter().all(u8::is_ascii_digit) {
        return Some(None);
    }
    // More digits than fit are a length all the same, and an implausible one.
    let text = std::str::from_utf8(digits).unwrap_or_default();
    Some(Some(text.parse().unwrap_or(u64::MAX)))
}

#[cfg(test)]
mod tests;
