//! What is done with a text at each door.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::sync::Arc;

use levare::catalogue::{CardFile, Snapshot};
use levare::findings;
use levare::notation::recopy::{How, recopy_file};
use levare::notation::{read, split};
use levare::text::{Sheet, Span};
use serde_json::{Value, json};

use crate::client::{Client, Folder, Setup};
use crate::made::{self, Dice};

/// A door: how texts for it are made, and what is done with one.
pub struct Door {
    pub name: &'static str,
    /// How many a short try makes.
    pub rounds: usize,
    pub make: fn(&mut Dice) -> Vec<u8>,
    pub go: fn(&[u8]),
}

pub const DOORS: [Door; 7] = [
    Door {
        name: "bytes",
        rounds: 60,
        make: made::bytes,
        go: tiles,
    },
    Door {
        name: "cards",
        rounds: 25,
        make: made::card,
        go: whole,
    },
    Door {
        name: "edits",
        rounds: 40,
        make: made::bytes,
        go: edits,
    },
    Door {
        name: "conditions",
        rounds: 60,
        make: made::conditions,
        go: whole,
    },
    Door {
        name: "roads",
        rounds: 40,
        make: made::road,
        go: whole,
    },
    Door {
        name: "merges",
        rounds: 60,
        make: made::merges,
        go: together,
    },
    Door {
        name: "messages",
        rounds: 60,
        make: messages,
        go: desk,
    },
];

/// The tree prints what was read.
fn tiles(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    let mut starts = split(&text);
    starts.push(text.len());
    let mut printed = String::new();
    for ends in starts.windows(2) {
        let card = &text[ends[0]..ends[1]];
        printed.push_str(&read(card).tree.print(card));
    }
    assert_eq!(printed, text);
}

/// All rules run, and the one form stays the one form.
fn whole(bytes: &[u8]) {
    tiles(bytes);
    let text = String::from_utf8_lossy(bytes);
    let found = |text: &str| {
        let band =
            "handbook\n  for \"Band\"\nensemble \"Band\"\n  players\n    flute 4\n  percussionists  4\n";
        let files = vec![
            Arc::new(CardFile::read("a.levare", text)),
            Arc::new(CardFile::read("handbook.levare", band)),
        ];
        let snapshot = Snapshot::new(files, jiff::civil::date(2026, 10, 20));
        let ids: Vec<_> = snapshot.entries().map(|(id, _)| id).collect();
        ids.into_iter()
            .map(|id| findings::of_card(&snapshot, id).len())
            .sum::<usize>()
    };
    found(&text);
    let once = recopy_file(&text, How::default()).text;
    let twice = recopy_file(&once, How::default()).text;
    assert_eq!(once, twice, "of {text}");
    found(&once);
}

/// Two bytes of place, one of how much goes, one of how much comes, and what comes, over and over.
fn edits(bytes: &[u8]) {
    const START: &str =
        "piece \"Air\"\n  by Y\n  parts\n    flute 1 D5-C6\n\nconcert \"Z\"\r\n  on 2026-12-10\r\nhandbook\n";
    let mut sheet = Sheet::new(START, split);
    let mut text = START.to_owned();
    let mut rest = bytes;
    while let [high, low, gone, come, tail @ ..] = rest {
        let (new, next) = tail.split_at(usize::from(*come % 40).min(tail.len()));
        let new = String::from_utf8_lossy(new);
        let start = u32::from(u16::from_be_bytes([*high, *low])) % (text.len() as u32 + 1);
        let span = Span::new(
            start,
            start.saturating_add(u32::from(*gone)).min(text.len() as u32),
        );
        text.replace_range(span.range(&text), &new);
        sheet.replace(span, &new);
        assert_eq!(sheet.to_string(), text);
        let afresh = Sheet::new(&text, split);
        let cards = |sheet: &Sheet| {
            sheet
                .chunks()
                .map(|chunk| chunk.text.to_string())
                .collect::<Vec<_>>()
        };
        assert_eq!(cards(&sheet), cards(&afresh));
        rest = next;
    }
}

/// Three writings of a file with a zero byte between them: put together, no word of either side is lost.
fn together(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    let mut parts = text.splitn(3, '\0');
    let (base, ours, theirs) = (
        parts.next().unwrap_or(""),
        parts.next().unwrap_or(""),
        parts.next().unwrap_or(""),
    );
    let merged = levare::comparing::merge::merge(base, ours, theirs);
    let many = |text: &str| {
        let mut words: BTreeMap<String, i64> = BTreeMap::new();
        for word in text.split(|c: char| c.is_whitespace() || matches!(c, ',' | ';')) {
            *words.entry(word.to_owned()).or_default() += 1;
        }
        words
    };
    let (b, o, t, r) = (many(base), many(ours), many(theirs), many(&merged.text));
    for word in o
        .keys()
        .chain(t.keys())
        .filter(|word| !word.is_empty() && *word != "and")
    {
        let of = |words: &BTreeMap<String, i64>| words.get(word).copied().unwrap_or(0);
        let (b, o, t, r) = (of(&b), of(&o), of(&t), of(&r));
        let least = if o >= b && t >= b { o.max(t) } else { o + t - b };
        assert!(r >= least, "{word:?}: {b} {o} {t} -> {r}\n{}", merged.text);
    }
    let snapshot = |text: &str| {
        let file = Arc::new(CardFile::read("a.levare", text));
        Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20))
    };
    let (old, new) = (snapshot(base), snapshot(&merged.text));
    let found = levare::comparing::compare(&old, &new, &|_| true);
    for card in &found.cards {
        levare::comparing::sentences(&card.changes);
    }
    assert!(levare::comparing::compare(&new, &new, &|_| true).is_empty());
}

const URI: &str = "untitled:a";

/// Messages, some as they should be and some with bytes and lengths that are wrong.
fn messages(dice: &mut Dice) -> Vec<u8> {
    let mut all = Vec::new();
    for _ in 0..1 + dice.roll(6) {
        let place = json!({"line": dice.roll(6), "character": dice.roll(20)});
        let odd = [
            json!(-1),
            json!(1.5),
            json!(null),
            json!("x"),
            json!({}),
            json!(4294967296u64),
        ];
        let place = if dice.roll(8) == 0 {
            json!({"line": odd[dice.roll(odd.len())], "character": 0})
        } else {
            place
        };
        let text = String::from_utf8_lossy(&made::card(dice)).into_owned();
        let document = json!({"uri": URI, "version": dice.roll(1000), "languageId": "levare", "text": text});
        let methods = [
            "textDocument/didOpen",
            "textDocument/didChange",
            "textDocument/didChange",
            "textDocument/didClose",
            "textDocument/hover",
            "textDocument/completion",
            "textDocument/formatting",
            "textDocument/rename",
            "$/cancelRequest",
            "nobody/knows",
        ];
        let method = dice.of(&methods);
        let mut message = json!({
            "jsonrpc": "2.0",
            "method": method,
            "params": {
                "textDocument": document,
                "position": place,
                "contentChanges": [{"range": {"start": place, "end": place}, "text": "x\n"}, {"text": text}],
                "newName": "y",
                "options": {"tabSize": 2, "insertSpaces": true},
                "id": dice.roll(9),
            },
        });
        if !method.contains("/did") && !method.starts_with('$') {
            message["id"] = json!(format!("m{}", dice.roll(1 << 30)));
        }
        let mut body = message.to_string().into_bytes();
        for _ in 0..if dice.roll(3) == 0 { 1 + dice.roll(4) } else { 0 } {
            let at = dice.roll(body.len());
            body[at] = u8::try_from(dice.roll(256)).unwrap();
        }
        let length = match dice.roll(12) {
            0 => dice.roll(body.len() + 1),
            1 => body.len() + dice.roll(300),
            2 => 3_000_000_000,
            _ => body.len(),
        };
        let header = match dice.roll(15) {
            0 => format!("Content-Lenght: {length}\r\n\r\n"),
            1 => format!("content-length:{length}\n\n"),
            _ => format!("Content-Length: {length}\r\n\r\n"),
        };
        all.extend(header.into_bytes());
        all.extend(body);
    }
    all
}

/// Whatever has come, a fresh message is answered, and a file opened anew is the client's to the letter.
fn desk(bytes: &[u8]) {
    thread_local! {
        static CLIENT: RefCell<Option<(Folder, Client)>> = const { RefCell::new(None) };
    }
    CLIENT.with(|client| {
        let mut client = client.borrow_mut();
        let (_, client) = client.get_or_insert_with(|| {
            let folder = Folder::with(&[]);
            let client = Setup::new(&[&folder.path("")]).start();
            (folder, client)
        });
        client.raw(bytes);
        // A body cut short takes what follows for its own, up to the next length that is declared.
        client.raw(b"\r\n");
        let waits = client.begin("levare/wait", json!({"ms": 0}));
        client.ask("levare/wait", json!({"ms": 0}));
        let text = "piece \"A\"\n  grade           1\n";
        client.close(URI);
        client.open(URI, text);
        client.ask("levare/settled", json!({}));
        assert_eq!(client.text(URI), text);
        client.close(URI);
        let _ = client.is_answered(waits);
        let said: Vec<Value> = client.read_all();
        let stumbled = said
            .iter()
            .any(|message| message.to_string().contains("stumbled"));
        assert!(!stumbled, "{said:?}");
    });
}
