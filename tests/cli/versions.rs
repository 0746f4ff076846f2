//! A catalogue under git: what is new since a commit, and what git is taught by `start --git`.

use std::path::Path;
use std::process::{Command, Output};

use crate::bench::{ALDER, Bench, WEIR};

/// Runs git with nobody's settings.
fn git(folder: &Path, arguments: &[&str]) -> Output {
    let settings = ["-c", "user.name=Test", "-c", "user.email=test@localhost"];
    Command::new("git")
        .args(settings)
        .args(arguments)
        .current_dir(folder)
        .env("GIT_CONFIG_GLOBAL", "/dev/null")
        .env("GIT_CONFIG_SYSTEM", "/dev/null")
        .output()
        .expect("git, which these checks need")
}

fn words(output: &Output) -> String {
    let out = String::from_utf8_lossy(&output.stdout).into_owned();
    out + &String::from_utf8_lossy(&output.stderr)
}

/// A catalogue under git in a folder with a blank and a quote in its name.
fn under_git(files: &[(&str, &str)]) -> Bench {
    let bench = Bench::bare(&[]);
    bench.write("the band's/handbook.levare", "handbook\n  notation        1\n");
    for (name, text) in files {
        bench.write(&format!("the band's/{name}"), text);
    }
    let top = bench.path("");
    git(&top, &["init", "--quiet", "-b", "main"]);
    git(&top, &["add", "."]);
    let made = git(&top, &["commit", "--quiet", "-m", "First"]);
    assert!(made.status.success(), "{}", words(&made));
    bench
}

#[test]
fn only_what_is_new_since_a_commit_is_told() {
    let bench = under_git(&[("alder.levare", ALDER)]);
    let all = bench.run(&["proofread", "the band's"]);
    assert_eq!(all.status, 1);
    let none = bench.run(&["proofread", "the band's", "--since", "HEAD"]);
    assert_eq!(none.status, 0, "{}{}", none.out, none.err);
    assert!(none.out.contains("1 finding is not new."), "{}", none.out);

    // A second card with the same slip is new, and the first still is not.
    bench.write(
        "the band's/more.levare",
        ALDER.replace("Night Train", "Slow Train"),
    );
    let new = bench.run(&["proofread", "the band's", "--since", "HEAD", "--as", "json"]);
    assert_eq!((new.status, new.out.lines().count()), (1, 1), "{}", new.out);
    assert!(new.out.contains("Slow Train"), "{}", new.out);

    // A card that is only called something else now keeps its finding, even at its first line.
    let renamed = ALDER.replace("Night Train", "Slow Train");
    bench.write("the band's/alder.levare", &renamed);
    bench.write("the band's/more.levare", "");
    let none = bench.run(&["proofread", "the band's", "--since", "HEAD", "--as", "json"]);
    assert_eq!((none.status, none.out.as_str()), (0, ""));
    bench.write("the band's/alder.levare", ALDER);

    // What was known before is not counted twice: another one like it is new all the same.
    let known = crate::bench::run(
        &bench.path("the band's"),
        &["proofread", "--record-known"],
        b"",
        &[],
    );
    assert_eq!(known.status, 0, "{}", known.err);
    bench.write("the band's/again.levare", ALDER);
    let again = bench.run(&["proofread", "the band's", "--since", "HEAD", "--as", "json"]);
    let ours = again
        .out
        .lines()
        .filter(|line| line.contains("signature against center"));
    assert_eq!(ours.count(), 1, "{}", again.out);

    // Before the first commit nothing was there, so everything is new.
    let first = Bench::with(&[("alder.levare", ALDER)]);
    git(&first.path(""), &["init", "--quiet"]);
    let ended = first.run(&["proofread", "--since", "HEAD", "--as", "json"]);
    assert_eq!((ended.status, ended.out.lines().count()), (1, 1), "{}", ended.err);

    let nowhere = bench.run(&["proofread", "the band's", "--since", "before"]);
    assert_eq!((nowhere.status, nowhere.out.as_str()), (2, ""), "{}", nowhere.err);
}

#[test]
fn git_is_taught_to_merge_and_to_show_cards() {
    let bench = under_git(&[("weir.levare", WEIR)]);
    let (top, folder) = (bench.path(""), bench.path("the band's"));
    let taught = bench.run(&["start", "the band's", "--git"]);
    assert_eq!((taught.status, taught.err.as_str()), (0, ""));
    assert!(
        taught.out.starts_with(".gitattributes now names"),
        "{}",
        taught.out
    );
    assert_eq!(
        bench.read("the band's/.gitattributes"),
        "*.levare diff=levare merge=levare\nknown-findings.json merge=levare\n"
    );
    // A second time changes nothing.
    let again = bench.run(&["start", "the band's", "--git"]);
    assert_eq!(again.status, 0);
    assert!(
        again.out.contains("already") && again.out.contains("as it was already"),
        "{}",
        again.out
    );

    // A hook from when the program was elsewhere is written again.
    let hook = bench.read(".git/hooks/pre-commit");
    bench.write(
        ".git/hooks/pre-commit",
        hook.replace("proofread --since", "proofread --all --since"),
    );
    let anew = bench.run(&["start", "the band's", "--git"]);
    assert!(anew.out.contains("now by this program"), "{}", anew.out);
    assert_eq!(bench.read(".git/hooks/pre-commit"), hook);

    // Two people change one card.
    let card = "piece \"Lanterns on the Weir\"\n  grade           1\n  style           slow\n  measures        88\n  lasts           3:10\n  tempo           72\n  percussion\n    snare           1-8, 17-24\n";
    let commit = |text: &str, message: &str| {
        bench.write("the band's/weir.levare", text);
        git(&top, &["add", "."]);
        let made = git(&top, &["commit", "--quiet", "--no-verify", "-m", message]);
        assert!(made.status.success(), "{}", words(&made));
    };
    commit(card, "More of it");
    git(&top, &["checkout", "--quiet", "-b", "theirs"]);
    commit(&card.replace("17-24", "17-32").replace("88", "90"), "Theirs");
    git(&top, &["checkout", "--quiet", "main"]);
    commit(
        &card.replace("1-8,", "1-12,").replace("slow", "slow, dark"),
        "Ours",
    );
    let merged = git(&top, &["merge", "--no-edit", "theirs"]);
    assert!(merged.status.success(), "{}", words(&merged));
    let wanted = card
        .replace("1-8, 17-24", "1-12, 17-32")
        .replace("slow", "slow, dark")
        .replace("88", "90");
    assert_eq!(bench.read("the band's/weir.levare"), wanted);

    // The title stands above the change, and titles and ranges are whole words.
    bench.write("the band's/weir.levare", wanted.replace("17-32", "17-40"));
    let shown = words(&git(&folder, &["diff", "--word-diff=plain"]));
    assert!(shown.contains("@@ piece \"Lanterns on the Weir\""), "{shown}");
    assert!(shown.contains("[-17-32-]{+17-40+}"), "{shown}");
    bench.write(
        "the band's/weir.levare",
        wanted.replace("on the Weir", "on the Quay"),
    );
    let shown = words(&git(&folder, &["diff", "--word-diff=plain"]));
    assert!(
        shown.contains("[-\"Lanterns on the Weir\"-]{+\"Lanterns on the Quay\"+}"),
        "{shown}"
    );
}

#[test]
fn what_is_no_text_is_merged_by_git_as_ever() {
    let bench = under_git(&[]);
    let top = bench.path("");
    assert_eq!(bench.run(&["start", "the band's", "--git"]).status, 0);
    let latin = |first: &str, last: &str| {
        let mut bytes = format!("piece \"{first}\"\n  grade 1\n  measures 8\n  notes caf").into_bytes();
        bytes.push(0xe9);
        bytes.extend(format!("\n  lasts 3:10\n  meter 4/4\n  style {last}\n").bytes());
        bytes
    };
    let commit = |bytes: &[u8]| {
        bench.write("the band's/old.levare", bytes);
        git(&top, &["add", "."]);
        let made = git(&top, &["commit", "--quiet", "--no-verify", "-m", "More"]);
        assert!(made.status.success(), "{}", words(&made));
    };
    commit(&latin("Air", "slow"));
    git(&top, &["checkout", "--quiet", "-b", "theirs"]);
    commit(&latin("Air", "quick"));
    git(&top, &["checkout", "--quiet", "main"]);
    commit(&latin("Song", "slow"));
    let merged = git(&top, &["merge", "--no-edit", "theirs"]);
    assert!(merged.status.success(), "{}", words(&merged));
    let found = std::fs::read(bench.path("the band's/old.levare")).expect("the file");
    assert_eq!(found, latin("Song", "quick"));
}

#[test]
fn before_a_commit_only_what_is_new_stops_it() {
    let bench = under_git(&[("alder.levare", ALDER)]);
    let top = bench.path("");
    assert_eq!(bench.run(&["start", "the band's", "--git"]).status, 0);
    let commit = || {
        git(&top, &["add", "."]);
        git(&top, &["commit", "--quiet", "-m", "More"])
    };
    bench.write("the band's/weir.levare", WEIR);
    let fine = commit();
    assert!(fine.status.success(), "{}", words(&fine));
    bench.write("the band's/weir.levare", ALDER.replace("Night", "Day"));
    let stopped = commit();
    assert!(!stopped.status.success());
    assert!(
        words(&stopped).contains("signature against center"),
        "{}",
        words(&stopped)
    );
}

#[test]
fn a_hook_and_attributes_that_are_there_stay() {
    let bench = under_git(&[]);
    bench.write(".git/hooks/pre-commit", "#!/bin/sh\nexit 0\n");
    bench.write("the band's/.gitattributes", "*.png binary");
    let ended = bench.run(&["start", "the band's", "--git"]);
    assert_eq!(ended.status, 0, "{}", ended.err);
    assert!(ended.out.contains("left alone"), "{}", ended.out);
    assert_eq!(bench.read(".git/hooks/pre-commit"), "#!/bin/sh\nexit 0\n");
    assert!(
        bench
            .read("the band's/.gitattributes")
            .starts_with("*.png binary\n*.levare diff=levare")
    );
}

#[test]
fn a_start_in_a_folder_under_git_says_what_git_can_be_taught() {
    let bench = Bench::bare(&[]);
    let bare = bench.run(&["start", "band", "--git"]);
    assert_eq!((bare.status, bare.out.as_str()), (2, ""), "{}", bare.err);
    git(&bench.path(""), &["init", "--quiet"]);
    let plain = bench.run(&["start", "band"]);
    assert!(plain.out.contains("levare start \"band\" --git"), "{}", plain.out);
    assert!(!bench.path("band/.gitattributes").exists());
    let both = bench.run(&["start", "other", "--git"]);
    assert_eq!(both.status, 0, "{}", both.err);
    assert!(bench.path("other/band.levare").exists() && bench.path("other/.gitattributes").exists());
}

/// Two branches of a catalogue: on one a card moved to another file, on the other it was changed. Git has stopped.
fn stopped_over_a_move() -> Bench {
    let both = format!("{WEIR}\n{ALDER}");
    let bench = under_git(&[("fall.levare", &both), ("spring.levare", "")]);
    let top = bench.path("");
    let folder = bench.path("the band's");
    let started = crate::bench::run(&folder, &["start", "--git"], b"", &[]);
    assert_eq!(started.status, 0, "{}", started.err);
    git(&top, &["add", "."]);
    git(&top, &["commit", "--quiet", "--no-verify", "-m", "Taught"]);
    git(&top, &["checkout", "--quiet", "-b", "theirs"]);
    bench.write("the band's/fall.levare", both.replace("3 flats", "2 flats"));
    git(&top, &["commit", "--quiet", "--no-verify", "-am", "Changed"]);
    git(&top, &["checkout", "--quiet", "main"]);
    bench.write("the band's/fall.levare", WEIR);
    bench.write("the band's/spring.levare", ALDER);
    git(&top, &["commit", "--quiet", "--no-verify", "-am", "Moved"]);
    let merged = git(&top, &["merge", "--no-edit", "theirs"]);
    assert!(!merged.status.success(), "{}", words(&merged));
    bench
}

#[test]
fn a_card_that_moved_to_another_file_takes_the_changes_along_when_git_has_stopped() {
    let bench = stopped_over_a_move();
    let folder = bench.path("the band's");
    let ended = crate::bench::run(&folder, &["merge"], b"", &[]);
    assert_eq!((ended.status, ended.err.as_str()), (0, ""), "{}", ended.out);
    expect_test::expect![[r#"
        Put together: fall.levare and spring.levare. Look them over, then tell git with
        git add and git commit.
    "#]]
    .assert_eq(&ended.out);
    assert_eq!(bench.read("the band's/fall.levare"), WEIR);
    assert_eq!(
        bench.read("the band's/spring.levare"),
        ALDER.replace("3 flats", "2 flats")
    );
    let again = crate::bench::run(&folder, &["merge"], b"", &[]);
    assert!(again.out.contains("nothing was written"), "{}", again.out);
    git(&folder, &["add", "."]);
    let made = git(&folder, &["commit", "--quiet", "--no-verify", "-m", "Merged"]);
    assert!(made.status.success(), "{}", words(&made));
    let over = crate::bench::run(&folder, &["merge"], b"", &[]);
    assert_eq!((over.status, over.out.as_str()), (2, ""));
    assert!(over.err.contains("no merge under way"), "{}", over.err);
}

#[test]
fn what_was_written_by_hand_during_a_merge_is_not_written_over() {
    let bench = stopped_over_a_move();
    let folder = bench.path("the band's");
    let typed = format!("{WEIR}  notes           Ask Jo.\n");
    bench.write("the band's/fall.levare", &typed);
    let ended = crate::bench::run(&folder, &["merge"], b"", &[]);
    assert_eq!((ended.status, ended.out.as_str()), (2, ""));
    assert!(ended.err.contains("git checkout --ours"), "{}", ended.err);
    assert_eq!(bench.read("the band's/fall.levare"), typed);
    assert_eq!(bench.read("the band's/spring.levare"), ALDER);
    let way_out = git(&folder, &["checkout", "--ours", "fall.levare"]);
    assert!(way_out.status.success(), "{}", words(&way_out));
    let ended = crate::bench::run(&folder, &["merge"], b"", &[]);
    assert_eq!(ended.status, 0, "{}", ended.err);
    assert_eq!(
        bench.read("the band's/spring.levare"),
        ALDER.replace("3 flats", "2 flats")
    );
}
