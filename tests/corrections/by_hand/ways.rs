//! Ways kept by name: shown, compared, listed among the trials, and chosen.

use serde_json::Value;

use super::Copy;

fn json(copy: &Copy, arguments: &[&str]) -> Value {
    let told = copy.run(&[arguments, &["--json"]].concat()).done();
    serde_json::from_str(&told).expect("JSON")
}

/// What stands on each panel: role, picture and words.
fn panels(told: &Value) -> Vec<(String, Value, Vec<String>)> {
    let panel = |panel: &Value| {
        let lines = panel["lines"].as_array().expect("lines").iter();
        let words = lines.map(|line| line["text"].as_str().expect("words").to_string());
        let role = panel["role"].as_str().expect("a role").to_string();
        (role, panel["picture"].clone(), words.collect())
    };
    let all = told["panels"].as_array().expect("panels").iter();
    all.map(panel).collect()
}

#[test]
fn a_way_is_kept_beside_the_chosen_one() {
    let copy = Copy::of("examples/winter-bus");
    let first = panels(&json(&copy, &["flow"]));
    copy.run(&["flow", "--keep", "--name", "as-it-was"]).done();
    assert!(copy.folder().join("breaks.as-it-was.toml").is_file());
    assert!(!copy.folder().join("breaks.toml").exists());

    let said = copy
        .run(&["trials", "--choose", "2", "--name", "lively"])
        .done();
    assert!(
        said.starts_with("This way is kept as lively, in ./breaks.lively.toml"),
        "{said}"
    );
    assert!(!copy.folder().join("breaks.toml").exists());
    let lively = panels(&json(&copy, &["flow", "--with", "lively"]));
    assert_ne!(lively, first);
    assert_eq!(panels(&json(&copy, &["flow"])), first);

    // Both are among the trials, under the numbers that they have there anyhow.
    let trials = json(&copy, &["trials"]);
    let kept: Vec<&Value> = trials["trials"]
        .as_array()
        .expect("trials")
        .iter()
        .map(|trial| &trial["kept_as"])
        .collect();
    assert_eq!(kept[..2], ["as-it-was", "lively"]);
    assert!(kept[2..].iter().all(|name| name.is_null()), "{kept:?}");

    // Compared: with the other way, and with itself.
    let against = json(
        &copy,
        &["flow", "--with", "lively", "--against", "as-it-was"],
    );
    let changed = &against["changed"];
    assert_eq!(changed["since"], "the way kept as as-it-was");
    assert_ne!(changed["panels"].as_array().map(Vec::len), Some(0));
    let same = json(&copy, &["flow", "--with", "lively", "--against", "lively"]);
    assert_eq!(same["changed"]["panels"].as_array().map(Vec::len), Some(0));

    // Chosen, it is what every command then makes.
    copy.run(&["flow", "--with", "lively", "--keep"]).done();
    assert_eq!(panels(&json(&copy, &["flow"])), lively);
}

/// A way that is far from the best is found among the trials all the same.
#[test]
fn a_way_that_no_trial_finds_is_listed_behind_them() {
    let copy = Copy::of("examples/winter-bus");
    copy.run(&["trials", "--choose", "5", "--name", "far"])
        .done();
    let told = json(&copy, &["trials", "--most", "2"]);
    let trials = told["trials"].as_array().expect("trials");
    assert_eq!(trials.len(), 3);
    assert_eq!(trials[2]["kept_as"], "far");
    let far = panels(&json(&copy, &["flow", "--with", "far"]));
    copy.run(&["trials", "--most", "2", "--choose", "3"]).done();
    assert_eq!(panels(&json(&copy, &["flow"])), far);
}

/// What is printed stays printed, whatever way is looked at; and a way keeps nothing of the press.
#[test]
fn panels_passed_for_press_stay_in_every_way() {
    let copy = Copy::of("examples/winter-bus");
    copy.run(&["trials", "--choose", "2", "--name", "lively"])
        .done();
    let first = panels(&json(&copy, &["flow"]));
    copy.run(&["pass", "front"]).done();
    copy.run(&["flow", "--keep", "--name", "printed"]).done();
    assert!(!copy.read("breaks.printed.toml").contains("passed"));
    let count = first.len() / 2;
    let lively = json(&copy, &["flow", "--with", "lively"]);
    assert_eq!(panels(&lively)[..count], first[..count]);
    let passed = lively["panels"].as_array().expect("panels").iter();
    assert_eq!(
        passed.filter(|panel| panel["passed"] == true).count(),
        count
    );
}

#[test]
fn wrong_names_and_ways_that_are_not_there_are_refused() {
    let copy = Copy::of("examples/winter-bus");
    for name in ["../elsewhere", "a/b", "a.b", "", "7"] {
        let said = copy.run(&["flow", "--keep", "--name", name]).at_fault();
        assert!(said.contains("a way's name is a word"), "{name}: {said}");
    }
    let said = copy.run(&["flow", "--with", "lively"]).at_fault();
    assert!(said.contains("no way is kept by the name lively"), "{said}");
    copy.run(&["flow", "--keep", "--name", "calm"]).done();
    let said = copy.run(&["flow", "--with", "lively"]).at_fault();
    assert!(said.contains("calm"), "{said}");
    // Words of hers in the file are never lost.
    copy.change(
        "breaks.calm.toml",
        "[[panel]]\npanel = \"front 1\"",
        "# Mine.\n[[panel]]\npanel = \"front 1\"",
    );
    copy.run(&["trials", "--choose", "2", "--name", "calm"])
        .done();
    assert!(copy.read("breaks.calm.1.toml").contains("# Mine."));
    assert!(!copy.read("breaks.calm.toml").contains("# Mine."));
}
