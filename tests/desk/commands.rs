//! Commands, and files that are renamed.

use serde_json::{Value, json};

use crate::client::Setup;
use crate::found::all;
use crate::places::range;
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
