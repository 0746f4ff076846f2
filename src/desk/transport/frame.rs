//! Cutting a stream of bytes into message bodies, and finding the way back after anything else.
//!
//! A frame is a header section, an empty line, and a body of the declared length (Language Server
//! Protocol 3.17, "Header Part"). Header names are compared without case, there may be any number
//! of headers, and a bare line feed ends a line as well as the pair the protocol asks for.
//!
//! Whatever does not fit is passed over without being kept: a body over the cap is skipped as it
//! streams by, and between frames bytes are dropped until a length is declared again, even when
//! that declaration is glued to the end of the rubbish (which is what a client that counted its
//! characters instead of its bytes leaves behind).

use tokio::io::{AsyncBufReadExt, AsyncRead, AsyncReadExt, BufReader};

/// The longest header section, in bytes, that is read as one.
const MAX_HEADERS: usize = 8 * 1024;
/// The longest line, in bytes, of which the whole is kept.
const MAX_LINE: usize = 4 * 1024;
/// How much of the end of a longer line is kept, in bytes: room for a glued length declaration.
const LINE_TAIL: usize = 64;
/// No client means a body of more bytes than this. A larger length is a mistake in the header and
/// not a body to wait for.
const PLAUSIBLE: u64 = 4 * 1024 * 1024 * 1024;
/// How much room is made for a body before its bytes have arrived.
const FIRST_ROOM: usize = 64 * 1024;

/// What the stream held next.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Frame {
    /// A body, complete, not yet looked at.
    Body(Vec<u8>),
    /// A body of this many bytes, over the cap. It is skipped by the next call.
    TooLong(u64),
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
    to_skip: u64,
    lost: bool,
}

impl<R: AsyncRead + Unpin> FrameReader<R> {
    /// Reads `input`; bodies over `max_body` bytes are skipped.
    pub(super) fn new(input: R, max_body: usize) -> Self {
        Self {
            input: BufReader::new(input),
            max_body,
            to_skip: 0,
            lost: false,
        }
    }

    /// The next frame. A read error counts as the end of the stream.
    pub(super) async fn next(&mut self) -> Frame {
        if self.skip().await.is_none() {
            return Frame::End;
        }
        loop {
            match self.section().await {
                Section::End => return Frame::End,
                Section::Length(length) if length <= PLAUSIBLE => {
                    self.lost = false;
                    return match usize::try_from(length) {
                        Ok(length) if length <= self.max_body => self.body(length).await,
                        _ => {
                            self.to_skip = length;
                            Frame::TooLong(length)
                        }
                    };
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

    async fn body(&mut self, length: usize) -> Frame {
        let mut body = Vec::with_capacity(length.min(FIRST_ROOM));
        let mut limited = (&mut self.input).take(length as u64);
        match limited.read_to_end(&mut body).await {
            Ok(read) if read == length => Frame::Body(body),
            _ => Frame::End,
        }
    }

    async fn skip(&mut self) -> Option<()> {
        while self.to_skip > 0 {
            let seen = self.input.fill_buf().await.ok()?.len();
            if seen == 0 {
                return None;
            }
            let passed = usize::try_from(self.to_skip).map_or(seen, |left| left.min(seen));
            self.input.consume(passed);
            self.to_skip -= passed as u64;
        }
        Some(())
    }

    async fn section(&mut self) -> Section {
        let mut length = None;
        let mut seen = 0_usize;
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

/// The length that a line declares: `None` if the line speaks of something else, `Some(None)` if
/// it declares a length that is no number.
///
/// The header's name may follow directly on rubbish, but not on what makes it the end of another
/// header's name (`X-Content-Length`).
fn declared_length(line: &[u8]) -> Option<Option<u64>> {
    const NAME: &[u8] = b"content-length";
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
