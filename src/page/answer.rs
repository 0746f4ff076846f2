//! Answers, put together as JSON by few and small functions: what a macro writes out at every place would be a tenth
//! of the whole page.

use serde_json::{Map, Value};

/// What can stand in an answer.
pub(super) trait Said {
    fn said(self) -> Value;
}

impl Said for Value {
    fn said(self) -> Value {
        self
    }
}

impl Said for &str {
    fn said(self) -> Value {
        Value::String(self.to_owned())
    }
}

impl Said for &String {
    fn said(self) -> Value {
        self.as_str().said()
    }
}

impl Said for String {
    fn said(self) -> Value {
        Value::String(self)
    }
}

impl Said for bool {
    fn said(self) -> Value {
        Value::Bool(self)
    }
}

impl Said for u32 {
    fn said(self) -> Value {
        Value::from(self)
    }
}

impl Said for usize {
    fn said(self) -> Value {
        Value::from(self)
    }
}

/// Numbers one after another.
fn numbers(all: &[u32]) -> Value {
    Value::Array(all.iter().map(|number| Value::from(*number)).collect())
}

impl<const N: usize> Said for [u32; N] {
    fn said(self) -> Value {
        numbers(&self)
    }
}

impl<T: Said> Said for Option<T> {
    fn said(self) -> Value {
        self.map_or(Value::Null, Said::said)
    }
}

impl<T: Said> Said for Vec<T> {
    fn said(self) -> Value {
        Value::Array(self.into_iter().map(Said::said).collect())
    }
}

/// An object of these.
#[inline(never)]
pub(super) fn object(pairs: Vec<(&'static str, Value)>) -> Value {
    let mut map = Map::new();
    for (name, value) in pairs {
        map.insert(name.to_owned(), value);
    }
    Value::Object(map)
}

/// What is amiss, in words for the director.
#[inline(never)]
pub(super) fn amiss(words: &str) -> Value {
    object(vec![("amiss", words.said())])
}

/// An answer with names, as JSON is written.
macro_rules! answer {
    ($($name:literal: $value:expr),* $(,)?) => {
        $crate::page::answer::object(vec![$(($name, $crate::page::answer::Said::said($value))),*])
    };
}
pub(super) use answer;
