//! Commands, and files that are renamed.

use serde_json::{Value, json};

use crate::client::Setup;
use crate::found::all;
use crate::places::{position, range};
use crate::year::{self, BAND, SHELF, SPRING};

fn run(client: &mut crate::client::Client, command: &str, arguments: Value) -> Value {
    client.ask(
        "workspace/executeCommand",
        json!({"command": command, "arguments": arguments}),
    )
}

#[test]
fn every_command_does_what_it_says() {
    let (folder, mut client) = year::desk();
    let known = client
        .capabilities
        .pointer("/executeCommandProvider/commands")
        .cloned()
        .unwrap();
    assert_eq!(
        known,
        json!([
            "levare.reason",
            "levare.handbook",
            "levare.recopyOpen",
            "levare.uses",
            "levare.answer",
            "levare.goOn"
        ])
    );
    client
        .replies
        .insert("window/showDocument".to_owned(), json!({"success": true}));
    client
        .replies
        .insert("workspace/applyEdit".to_owned(), json!({"applied": true}));

    // The page of a finding, where the editor shows pages that are nowhere on the disk.
    let page = run(&mut client, "levare.reason", json!(["signature against center"]));
    assert!(page.as_str().unwrap().contains("## Why it matters"), "{page}");
    let shown = client.last_asked("window/showDocument");
    let uri = shown["uri"].clone();
    assert_eq!(uri, "levare-reason:/signature%20against%20center.md");
    let content = client.ask("workspace/textDocumentContent", json!({"uri": uri}));
    assert_eq!(content["text"], page);
    let other = client.ask(
        "workspace/textDocumentContent",
        json!({"uri": "levare-reason:/over%20the%20break.md"}),
    );
    assert!(
        other["text"].as_str().unwrap().starts_with("# over the break"),
        "{other}"
    );

    let handbook = run(&mut client, "levare.handbook", json!([]));
    assert_eq!(handbook, json!(folder.uri("handbook.levare")));
    assert_eq!(client.last_asked("window/showDocument")["uri"], handbook);

    // All open files in the one form, and once is enough.
    assert_eq!(run(&mut client, "levare.recopyOpen", json!([])), 1);
    let edit = client.last_asked("workspace/applyEdit")["edit"].clone();
    let change = &edit["documentChanges"][0];
    let spring = folder.uri("spring.levare");
    assert_eq!(change["textDocument"]["uri"], json!(spring));
    let tidy = all(SPRING, change["edits"].as_array().unwrap(), "utf-16");
    assert_eq!(tidy, SPRING.replace(['“', '”'], "\""));
    client.change(&spring, json!([{"text": tidy}]));
    assert_eq!(run(&mut client, "levare.recopyOpen", json!([])), 0);
    assert_eq!(
        client.message()["params"]["message"],
        "All open files are already recopied."
    );
    year::quiet(&folder, &mut client);
}

/// What an editor that asks is offered at a place of a file, by titles.
fn offered(client: &mut crate::client::Client, uri: &str, text: &str, words: &str) -> Vec<Value> {
    let at = position(text, text.find(words).unwrap() + 1, "utf-16");
    let asked = json!({
        "textDocument": {"uri": uri},
        "range": {"start": at, "end": at},
        "context": {"diagnostics": [], "triggerKind": 1},
    });
    let found = client.ask("textDocument/codeAction", asked);
    found.as_array().unwrap().clone()
}

fn titled(actions: &[Value], title: &str) -> Option<Value> {
    let found = actions.iter().find(|action| action["title"] == title);
    found.map(|action| action["command"]["arguments"].clone())
}

#[test]
fn the_library_opens_as_a_page() {
    const SET: &str = "Show this set: copies, loans, performances";
    const ALL: &str = "Show the whole library";
    let (folder, mut client) = year::desk();
    client
        .replies
        .insert("window/showDocument".to_owned(), json!({"success": true}));
    let shelf = folder.uri("shelf.levare");
    // A piece of which no card says that the set is there has no page of its own.
    let before = offered(&mut client, &shelf, SHELF, "Harbor Parade");
    assert_eq!(titled(&before, SET), None);
    let all = titled(&before, ALL).expect("offered");
    let empty = run(&mut client, "levare.answer", all.clone());
    assert!(
        empty.as_str().unwrap().starts_with("No card has a library yet."),
        "{empty}"
    );
    let owned = SHELF.replace(
        "  asks            ties, sharing a solo\n",
        "  asks            ties, sharing a solo\n  library\n    place           box 3\n    copies          1 score, 5 flute\n",
    );
    client.change(&shelf, json!([{"text": owned}]));
    let after = offered(&mut client, &shelf, &owned, "Harbor Parade");
    let own = titled(&after, SET).expect("offered");
    let page = run(&mut client, "levare.answer", own.clone());
    let says = page.as_str().unwrap();
    for words in [
        "\"Harbor Parade\", box 3",
        "5 copies for flute and 9 players: 4 short.",
    ] {
        assert!(says.contains(words), "{page}");
    }
    // The page has an address, at which an editor that shows such pages finds the same text.
    let uri = client.last_asked("window/showDocument")["uri"].clone();
    assert!(
        uri.as_str()
            .unwrap()
            .starts_with("levare-answer:/Harbor%20Parade.txt?"),
        "{uri}"
    );
    let content = client.ask("workspace/textDocumentContent", json!({"uri": uri}));
    assert_eq!(content["text"], page);
    // It says what the card says by now; and of a card that is gone, nothing.
    client.change(&shelf, json!([{"text": owned.replace("5 flute", "7 flute")}]));
    let content = client.ask("workspace/textDocumentContent", json!({"uri": uri}));
    assert!(
        content["text"].as_str().unwrap().contains("7 copies for flute"),
        "{content}"
    );
    client.change(&shelf, json!([{"text": owned.replace("Harbor", "Harbour")}]));
    let id = client.begin("workspace/textDocumentContent", json!({"uri": uri}));
    let gone = client.answer(id);
    assert!(
        gone["error"]["message"]
            .as_str()
            .unwrap()
            .starts_with("There is no page"),
        "{gone}"
    );
    year::quiet(&folder, &mut client);
}

#[test]
fn a_lens_leads_to_where_its_card_is_used() {
    let (folder, mut client) = year::desk();
    let (band, shelf, spring) = (
        folder.uri("band.levare"),
        folder.uri("shelf.levare"),
        folder.uri("spring.levare"),
    );
    client
        .replies
        .insert("window/showDocument".to_owned(), json!({"success": true}));
    let lens = client.ask("textDocument/codeLens", json!({"textDocument": {"uri": band}}));
    let told = client.ask("codeLens/resolve", lens[1].clone());
    let at = json!({"uri": shelf, "range": range(SHELF, "sharing a solo", "utf-16")});
    assert_eq!(
        run(&mut client, "levare.uses", told["command"]["arguments"].clone()),
        json!([at])
    );
    let shown = client.last_asked("window/showDocument");
    assert_eq!((&shown["uri"], &shown["selection"]), (&at["uri"], &at["range"]));
    // Of several places the director chooses one.
    let told = client.ask("codeLens/resolve", lens[0].clone());
    client.replies.insert(
        "window/showMessageRequest".to_owned(),
        json!({"title": "concert \"Spring evening\""}),
    );
    let found = run(&mut client, "levare.uses", told["command"]["arguments"].clone());
    assert_eq!(found.as_array().unwrap().len(), 2);
    client.until_asked("window/showDocument", 2);
    assert_eq!(client.last_asked("window/showDocument")["uri"], json!(spring));
    // A lens whose card is gone leads nowhere.
    client.change(&band, json!([{"text": BAND.replace("Seventh", "Eighth")}]));
    let found = run(&mut client, "levare.uses", told["command"]["arguments"].clone());
    assert_eq!(found, json!([]));
    year::quiet(&folder, &mut client);
}

#[test]
fn an_editor_that_shows_no_pages_gets_a_message() {
    let folder = year::folder();
    let mut client = Setup::new(&[&folder.path("")]).start();
    run(&mut client, "levare.reason", json!(["signature against center"]));
    let said = client.message()["params"]["message"].as_str().unwrap().to_owned();
    assert!(
        said.contains("signature against center") && said.contains("What to do:"),
        "{said}"
    );
    run(&mut client, "levare.reason", json!(["no such thing"]));
    client.log("no finding called \"no such thing\"");
    let id = client.begin("workspace/executeCommand", json!({"command": "levare.none"}));
    assert_eq!(client.answer(id)["error"]["code"], -32602);
    year::quiet(&folder, &mut client);
}

#[test]
fn cards_follow_the_files_that_they_name() {
    let (folder, mut client) = year::desk();
    folder.write("scores/parade.pdf", "");
    folder.write("scores/other.pdf", "");
    let shelf = folder.uri("shelf.levare");
    let with = SHELF.replacen(
        "  parts\n",
        "  score           scores/parade.pdf\n  see             scores/other.pdf, page 2\n  parts\n",
        1,
    );
    client.change(&shelf, json!([{"text": with}]));
    let renamed = |client: &mut crate::client::Client, old: &str, new: &str| {
        let files = json!([{"oldUri": folder.uri(old), "newUri": folder.uri(new)}]);
        let edit = client.ask("workspace/willRenameFiles", json!({"files": files}));
        match &edit {
            Value::Null => String::new(),
            edit => year::done(&folder, edit, &[("shelf.levare", &with)])["shelf.levare"].clone(),
        }
    };
    assert_eq!(
        renamed(&mut client, "scores/parade.pdf", "old/march.pdf"),
        with.replace("scores/parade.pdf", "old/march.pdf")
    );
    // A folder takes all its files along.
    assert_eq!(
        renamed(&mut client, "scores", "library"),
        with.replace("scores/", "library/")
    );
    // A card that moves still finds them.
    assert_eq!(
        renamed(&mut client, "shelf.levare", "pieces/shelf.levare"),
        with.replace("scores/", "../scores/")
    );
    assert_eq!(renamed(&mut client, "nothing.pdf", "something.pdf"), "");
    year::quiet(&folder, &mut client);
}

#[test]
fn a_renamed_file_is_the_same_catalogue() {
    let folder = year::folder();
    let mut client = year::able(&folder).start();
    let names = |client: &mut crate::client::Client| {
        let found = client.ask("workspace/symbol", json!({"query": "harbor"}));
        found[0]["location"]["uri"]
            .as_str()
            .unwrap_or_default()
            .to_owned()
    };
    assert_eq!(names(&mut client), folder.uri("shelf.levare"));
    std::fs::rename(folder.path("shelf.levare"), folder.path("marches.levare")).unwrap();
    let files = json!([{"oldUri": folder.uri("shelf.levare"), "newUri": folder.uri("marches.levare")}]);
    client.note("workspace/didRenameFiles", json!({"files": files}));
    assert_eq!(names(&mut client), folder.uri("marches.levare"));
    for name in [
        "band.levare",
        "marches.levare",
        "shelf.levare",
        "spring.levare",
        "handbook.levare",
    ] {
        client.told(&folder.uri(name));
    }
}
