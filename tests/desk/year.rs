//! A small catalogue in four open files, and an editor that can do all that the protocol names.

use std::collections::BTreeMap;

use serde_json::{Value, json};

use crate::client::{Client, Folder, Setup};
use crate::found::all;
use crate::places::position;

pub const HANDBOOK: &str = "handbook\n  notation        1\n  for             \"Seventh Grade Band\"\n";

pub const BAND: &str = "ensemble \"Seventh Grade Band\"
  players
    flute           9
    clarinet        12, 4 over the break
    alto sax        6
    alto horn       2
  keys            Bb major, Eb major
  taught          ties

skill \"sharing a solo\"
  after           ties

instrument \"alto horn\"
  sounds          a major sixth lower
";

pub const SHELF: &str = "piece \"Harbor Parade\"
  by              Tam Lindqvist
  style           march
  tonal center    Bb major
  key signature   2 flats
  meter           6/8
  rehearsal marks A 9, trio 41
  tempo           quarter = 116, quarter = 100 at trio
  roadmap         D.C. al Fine, Fine at trio
  lasts           3:10
  parts
    flute           D5-C6
    clarinet 1      A3-C5, over the break at trio
    alto sax        same as flute
    alto horn       with alto sax
  asks            ties, sharing a solo

piece \"Lanterns on the Weir\"
  by              Odile Marchetti
  key signature   5 flats
  meter           4/4
  lasts           5:05
";

pub const SPRING: &str = "concert \"Spring evening\"
  on              2027-05-10, 19:00
  for             “Seventh Grade Band”
  length          20 minutes, 1:30 between pieces
  program
    \"Harbor Parade\"
    \"Lanterns on the Weir\"
";

/// The files that are open, with their texts.
pub const OPEN: [(&str, &str); 3] = [
    ("band.levare", BAND),
    ("shelf.levare", SHELF),
    ("spring.levare", SPRING),
];

pub fn folder() -> Folder {
    let mut files = vec![("handbook.levare", HANDBOOK)];
    files.extend(OPEN);
    Folder::with(&files)
}

/// An editor that can do all that the desk looks for.
pub fn able(folder: &Folder) -> Setup {
    Setup::new(&[&folder.path("")]).can(json!({
        "window": {"workDoneProgress": true, "showDocument": {"support": true}},
        "workspace": {
            "applyEdit": true,
            "configuration": true,
            "didChangeConfiguration": {"dynamicRegistration": true},
            "codeLens": {"refreshSupport": true},
            "inlayHint": {"refreshSupport": true},
            "semanticTokens": {"refreshSupport": true},
            "symbol": {"resolveSupport": {"properties": ["location.range"]}},
            "textDocumentContent": {},
        },
        "textDocument": {
            "rename": {"prepareSupport": true},
            "synchronization": {"willSave": true, "willSaveWaitUntil": true},
            "rangeFormatting": {"rangesSupport": true},
            "codeAction": {"dataSupport": true, "resolveSupport": {"properties": ["edit"]}},
        },
    }))
}

/// The catalogue in an able editor, with what is found already read.
pub fn desk() -> (Folder, Client) {
    let folder = folder();
    let mut client = able(&folder).start();
    open(&folder, &mut client);
    (folder, client)
}

pub fn open(folder: &Folder, client: &mut Client) {
    for (name, text) in OPEN {
        client.open(&folder.uri(name), text);
    }
    quiet(folder, client);
}

/// Reads what is found, which is the business of other tests.
pub fn quiet(folder: &Folder, client: &mut Client) {
    for (name, _) in OPEN {
        client.told(&folder.uri(name));
    }
    client.told(&folder.uri("handbook.levare"));
}

/// The place of the byte `after` so many from the start of the `nth` `words`, counted from 0.
pub fn nth(text: &str, words: &str, nth: usize, after: usize) -> Value {
    let (at, _) = text.match_indices(words).nth(nth).expect(words);
    position(text, at + after, "utf-16")
}

/// What a workspace edit makes of the open files, by name.
pub fn done(folder: &Folder, edit: &Value, texts: &[(&str, &str)]) -> BTreeMap<String, String> {
    let mut made = BTreeMap::new();
    for change in edit["documentChanges"].as_array().expect("changes") {
        let uri = change["textDocument"]["uri"].as_str().unwrap();
        let (name, text) = texts
            .iter()
            .find(|(name, _)| folder.uri(name) == uri)
            .expect("a file of the catalog");
        let edits = change["edits"].as_array().unwrap();
        made.insert((*name).to_owned(), all(text, edits, "utf-16"));
    }
    made
}

/// The words of a range.
pub fn words<'t>(text: &'t str, range: &Value) -> &'t str {
    let byte = |at: &Value| {
        (0..=text.len())
            .filter(|byte| text.is_char_boundary(*byte))
            .find(|byte| position(text, *byte, "utf-16") == *at)
            .unwrap_or_else(|| panic!("no place {at}"))
    };
    &text[byte(&range["start"])..byte(&range["end"])]
}
