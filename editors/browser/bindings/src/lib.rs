//! The catalogue behind the page, as the browser calls it: texts go in and come out as stretches of memory.
//!
//! `room(length)` makes room for a question and gives its address; the page writes the question there as UTF-8
//! JSON; `ask()` answers it, and gives the answer's address; `length()` gives the answer's length. There is one
//! catalogue, and nothing here is called by two threads, as a browser's worker has one. What questions there are
//! stands with `levare::page`, which does all the work.

use std::cell::RefCell;

use levare::page::Page;

/// What lies between the two sides.
struct Desk {
    page: Page,
    question: Vec<u8>,
    answer: String,
}

thread_local! {
    static DESK: RefCell<Desk> = RefCell::new(Desk {
        page: Page::default(),
        question: Vec::new(),
        answer: String::new(),
    });
}

/// Makes room for a question of `length` bytes, all zero, and gives its address. It stays there until the next call.
// SAFETY: no other function of this library or of what it is linked with has this name.
#[unsafe(no_mangle)]
pub extern "C" fn room(length: usize) -> *mut u8 {
    DESK.with_borrow_mut(|desk| {
        desk.question.clear();
        desk.question.resize(length, 0);
        desk.question.as_mut_ptr()
    })
}

/// Answers the question that lies in the room, and gives the answer's address. It stays there until the next call.
// SAFETY: no other function of this library or of what it is linked with has this name.
#[unsafe(no_mangle)]
pub extern "C" fn ask() -> *const u8 {
    DESK.with_borrow_mut(|desk| {
        let question = std::mem::take(&mut desk.question);
        desk.answer = desk.page.answer(&String::from_utf8_lossy(&question));
        desk.answer.as_ptr()
    })
}

/// The length of the last answer in bytes.
// SAFETY: no other function of this library or of what it is linked with has this name.
#[unsafe(no_mangle)]
pub extern "C" fn length() -> usize {
    DESK.with_borrow(|desk| desk.answer.len())
}
