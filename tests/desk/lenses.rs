//! Lines above cards and facts beside words, and that they follow what other files say.

use serde_json::{Value, json};

use crate::client::Client;
use crate::places::range;
use crate::year::{self, BAND, SHELF, SPRING};

fn lenses(client: &mut Client, uri: &str) -> Vec<(Value, String)> {
    let found = client.ask("textDocument/codeLens", json!({"textDocument": {"uri": uri}}));
    let found = found.as_array().cloned().unwrap_or_default();
    found
        .into_iter()
        .map(|lens| {
            assert!(lens.get("command").is_none(), "told only when it is shown");
            let told = client.ask("codeLens/resolve", lens);
            (
                told["range"].clone(),
                told["command"]["title"].as_str().unwrap().to_owned(),
            )
        })
        .collect()
}

fn titles(client: &mut Client, uri: &str) -> Vec<String> {
    lenses(client, uri).into_iter().map(|(_, title)| title).collect()
}

#[test]
fn a_line_above_a_card_says_who_uses_it() {
    let (folder, mut client) = year::desk();
    let (band, shelf, spring) = (
        folder.uri("band.levare"),
        folder.uri("shelf.levare"),
        folder.uri("spring.levare"),
    );
    assert_eq!(
        lenses(&mut client, &band),
        [
            (
                range(BAND, "Seventh Grade Band", "utf-16"),
                "1 concert, 2 pieces checked for this band".to_owned()
            ),
            (range(BAND, "sharing a solo", "utf-16"), "in 1 piece".to_owned()),
            (
                // The card's own head, not the row of the band.
                range(BAND, "alto horn\"", "utf-16"),
                "in 1 ensemble, 1 piece".to_owned()
            ),
        ]
        .map(|(range, title)| {
            let mut range = range;
            if title.contains("ensemble") {
                let end = range["end"]["character"].as_u64().unwrap();
                range["end"]["character"] = json!(end - 1);
            }
            (range, title)
        })
    );
    // The day by which the skill is taught hangs on the day of the test, and none is left when spring is over.
    let first = |titles: Vec<String>| {
        let told: Vec<&str> = titles.iter().flat_map(|title| title.split(" · ")).collect();
        let teaches = told
            .get(1)
            .is_none_or(|words| words.starts_with("1 skill to teach"));
        assert!(teaches && told.len() <= 2, "{told:?}");
        told.first().copied().unwrap_or_default().to_owned()
    };
    assert_eq!(first(titles(&mut client, &spring)), "2 pieces, 9:45 in all");
    assert_eq!(titles(&mut client, &shelf), ["in 1 concert", "in 1 concert"]);
    // Another file changes, and the client is told to ask again.
    client.change(
        &spring,
        json!([{"text": SPRING.replace("    \"Lanterns on the Weir\"\n", "")}]),
    );
    client.until_asked("workspace/codeLens/refresh", 1);
    assert_eq!(titles(&mut client, &shelf), ["in 1 concert"]);
    assert_eq!(first(titles(&mut client, &spring)), "1 piece, 3:10 in all");
    year::quiet(&folder, &mut client);
}

fn hints(client: &mut Client, uri: &str, text: &str) -> Vec<(u64, String)> {
    let lines = text.lines().count();
    let whole = json!({"start": {"line": 0, "character": 0}, "end": {"line": lines, "character": 0}});
    let found = client.ask(
        "textDocument/inlayHint",
        json!({"textDocument": {"uri": uri}, "range": whole}),
    );
    let found = found.as_array().cloned().unwrap_or_default();
    found
        .iter()
        .map(|hint| {
            (
                hint["position"]["line"].as_u64().unwrap(),
                hint["label"].as_str().unwrap().to_owned(),
            )
        })
        .collect()
}

#[test]
fn facts_stand_beside_the_words_they_follow_from() {
    let (folder, mut client) = year::desk();
    let (shelf, spring) = (folder.uri("shelf.levare"), folder.uri("spring.levare"));
    assert_eq!(
        hints(&mut client, &spring, SPRING),
        [(5, "3:10 so far".to_owned()), (6, "9:45 so far".to_owned())]
    );
    assert_eq!(
        hints(&mut client, &shelf, SHELF),
        [
            (3, "clarinet C major, alto sax G major".to_owned()),
            (7, "trio is m. 41".to_owned()),
            (8, "trio is m. 41".to_owned()),
            (12, "trio is m. 41".to_owned()),
        ]
    );
    // Each at the end of its line, so that nothing is pushed out of its column.
    let whole = json!({"start": {"line": 0, "character": 0}, "end": {"line": 20, "character": 0}});
    let all = client.ask(
        "textDocument/inlayHint",
        json!({"textDocument": {"uri": shelf}, "range": whole}),
    );
    for hint in all.as_array().unwrap() {
        let line = SHELF
            .lines()
            .nth(hint["position"]["line"].as_u64().unwrap() as usize)
            .unwrap();
        assert_eq!(hint["position"]["character"], line.len(), "{line}");
    }
    // More is told when it is asked for.
    let line = json!({"start": {"line": 3, "character": 0}, "end": {"line": 4, "character": 0}});
    let asked = json!({"textDocument": {"uri": shelf}, "range": line});
    let hint = client.ask("textDocument/inlayHint", asked)[0].clone();
    let told = client.ask("inlayHint/resolve", hint);
    let said = told["tooltip"]["value"].as_str().unwrap();
    assert!(said.contains("alto sax") && said.contains("G major"), "{said}");
    // The piece gets longer in its own file, and the program beside it follows.
    client.change(&shelf, json!([{"text": SHELF.replace("3:10", "4:00")}]));
    client.until_asked("workspace/inlayHint/refresh", 1);
    assert_eq!(
        hints(&mut client, &spring, SPRING),
        [(5, "4:00 so far".to_owned()), (6, "10:35 so far".to_owned())]
    );
    // What nobody knows is not added up.
    client.change(
        &shelf,
        json!([{"text": SHELF.replace("  lasts           3:10\n", "")}]),
    );
    assert!(hints(&mut client, &spring, SPRING).is_empty());
    year::quiet(&folder, &mut client);
}

#[test]
fn a_title_loses_its_color_when_its_card_goes() {
    let (folder, mut client) = year::desk();
    let (shelf, spring) = (folder.uri("shelf.levare"), folder.uri("spring.levare"));
    let ask = |client: &mut Client| {
        client.ask(
            "textDocument/semanticTokens/full",
            json!({"textDocument": {"uri": spring}}),
        )["data"]
            .clone()
    };
    let before = ask(&mut client);
    client.change(
        &shelf,
        json!([{"text": SHELF.replace("Harbor Parade", "Quay Parade")}]),
    );
    client.until_asked("workspace/semanticTokens/refresh", 1);
    assert_ne!(ask(&mut client), before);
    // What a file does to itself, its editor sees without being told.
    let refresh = "workspace/semanticTokens/refresh";
    let times = |client: &Client| client.asked.iter().filter(|one| *one == refresh).count();
    client.ask("levare/wait", json!({"ms": 500}));
    let before = times(&client);
    client.change(
        &spring,
        json!([{"text": SPRING.replace("“Seventh", "(the) “Seventh")}]),
    );
    client.settle();
    client.ask("levare/wait", json!({"ms": 500}));
    assert_eq!(times(&client), before, "{:?}", client.asked);
    year::quiet(&folder, &mut client);
}
