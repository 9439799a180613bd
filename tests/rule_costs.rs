//! The page of what rules ask and cost, `examples/rules.md`, is made of what the head of each rule's file says. That the
//! rules do what it says is held by the plain definitions of `tests/division`; that it names the very figures of the
//! code, here.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use versefold::plan::RuleName;
use versefold::rules::Group;

use super::support;

/// One file of rules.
struct RuleFile {
    code: String,
    /// What its head says beside naming the rule, as paragraphs.
    says: Vec<String>,
}

fn read(name: &str) -> RuleFile {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("src/rules")
        .join(name);
    let code = fs::read_to_string(&path).expect("the file of a rule");
    let head = code.lines().take_while(|line| line.starts_with("//!"));
    let head: Vec<&str> = head.map(|line| line[3..].trim()).collect();
    let paragraphs = head
        .split(|line| line.is_empty())
        .map(|lines| lines.join(" "));
    RuleFile {
        says: paragraphs.map(|told| for_readers(&told)).collect(),
        code,
    }
}

/// The sentences of a paragraph that are not for those who read the code.
fn for_readers(paragraph: &str) -> String {
    let ours = [
        "remember",
        "charged",
        "`spreads_after`",
        "(`",
        "([`",
        "looks no farther",
    ];
    let sentences = paragraph.split_inclusive(". ");
    let sentences = sentences.filter(|told| !ours.iter().any(|word| told.contains(word)));
    sentences.collect::<String>().trim().to_string()
}

/// The file of a rule, by the name that an author writes.
fn file(word: &str) -> String {
    match word {
        "text-fullness" | "shared-fullness" | "first-fullness" | "last-fullness" => {
            "fullness.rs".to_string()
        }
        word => format!("{}.rs", word.replace('-', "_")),
    }
}

/// The figures that a text tells; `10 000` is one.
fn figures(text: &str) -> BTreeSet<u64> {
    let mut figures = BTreeSet::new();
    let mut words = text.split(|c: char| !c.is_ascii_alphanumeric() && c != ' ');
    for run in words.by_ref() {
        let mut number = String::new();
        for word in run.split(' ').chain([""]) {
            let digits = !word.is_empty() && word.bytes().all(|byte| byte.is_ascii_digit());
            if digits && word.len() == 3 && !number.is_empty() {
                number.push_str(word);
                continue;
            }
            figures.extend(number.parse::<u64>());
            number = if digits {
                word.to_string()
            } else {
                String::new()
            };
        }
    }
    figures
}

/// The figures of a rule's code that decide what it costs.
fn constants(code: &str) -> BTreeSet<u64> {
    let lines = code.lines().flat_map(|line| {
        let declared = line
            .strip_prefix("const ")
            .and_then(|rest| rest.split_once(": "));
        let (name, value) = declared.unwrap_or_default();
        let (of, value) = value.split_once(" = ").unwrap_or_default();
        let counts = match of {
            "usize" => !matches!(name, "BITS" | "MOST" | "OLDEST"),
            of => of == "u64" || of.starts_with("[u64; "),
        };
        let numbers = value.trim_matches(|c: char| "[];".contains(c)).split(", ");
        let numbers = numbers.filter_map(|number| number.replace('_', "").parse().ok());
        numbers.filter(|_| counts).collect::<Vec<u64>>()
    });
    lines.collect()
}

/// Each rule once, those of one file together, group by group.
fn files() -> Vec<(Group, Vec<RuleName>)> {
    let mut all = RuleName::ALL.map(|(name, ..)| name).to_vec();
    all.sort_by_key(|name| (name.about().group, *name));
    let together = all.chunk_by(|one, next| file(one.word()) == file(next.word()));
    together
        .map(|names| (names[0].about().group, names.to_vec()))
        .collect()
}

#[test]
fn what_is_told_of_a_rule_has_the_figures_of_its_code() {
    for (_, names) in files() {
        let name = file(names[0].word());
        let rule = read(&name);
        let told = figures(&rule.says.concat());
        let mut known = constants(&rule.code);
        for cost in &known {
            assert!(
                told.contains(cost),
                "the head of {name} does not tell {cost}"
            );
        }
        if rule.code.contains("points_off") || rule.code.contains("white") {
            known.insert(10);
        }
        if let Some(white) = rule.code.split("white: Percent(").nth(1) {
            let white = white.split(')').next().expect("a share");
            let white: u64 = white.parse().expect("a number");
            known.extend([white, white * white / 10]);
        }
        for figure in told {
            let plain = figure <= 1 || known.contains(&figure);
            assert!(
                plain,
                "the head of {name} tells {figure}, which is not in its code"
            );
        }
    }
}

/// The page of all rules. `UPDATE=1` writes it anew.
#[test]
fn the_page_of_costs_says_what_the_rules_say() {
    let mut page = INTRODUCTION.to_string();
    let mut last = None;
    for (group, names) in files() {
        if last.replace(group) != Some(group) {
            page.push_str(match group {
                Group::Amount => "\n## How much a panel carries\n",
                Group::Bounds => "\n## What no panel carries, and where none ends\n",
                Group::Order => "\n## What follows what\n",
            });
        }
        let words: Vec<String> = names
            .iter()
            .map(|name| format!("`{}`", name.word()))
            .collect();
        page.push_str(&format!("\n### {}\n", words.join(", ")));
        for name in &names {
            let usual = match name.unless_said() {
                Some(usual) => format!(" Unless you say: `{usual}`."),
                None => String::new(),
            };
            let kept = if name.hard_by_default() {
                " It must be kept."
            } else {
                ""
            };
            page.push_str(&format!("\n*{}*{usual}{kept}\n", name.about().words));
        }
        for told in read(&file(names[0].word())).says.iter().skip(1) {
            if !told.is_empty() {
                page.push_str(&format!("\n{told}\n"));
            }
        }
    }
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/rules.md");
    let stale = support::golden::differs(&path, &page);
    assert_eq!(stale, None, "{}", stale.clone().unwrap_or_default());
}

const INTRODUCTION: &str = "\
# What the rules ask, and what they cost

Of all ways to divide a part over its panels, Versefold takes the one that costs least. What a way costs is the sum of what
each rule charges for all that is not as it asks: whole numbers, so that you can add them up yourself. `versefold flow
--costs` tells them panel by panel, `--why` what they come to elsewhere.

- A rule that must be kept is never broken, and then costs nothing. `must` makes any rule such a one, `may-give` lets it go:
  then it costs what is told here.
- `importance` multiplies what a rule costs: 1 unless you say, 0 to switch it off.
  One that gives way of itself, as `undivided` does where nothing else is possible, costs it too.
- How full a panel is: lines and spaces used, of those that its text area has, in per cent.
- A line of verse that turns over is one line; of prose each line as it is set. Headings and titles are no lines and no
  stanzas.
- A section is the words from one heading to the next. A spread is what is seen at once as the strip is leafed through;
  `layout.json` lists them, and a panel in none of them is one by itself.
- Of ways that cost the same, that is taken whose words come first.

The words in italics are those of the plan's schema.
";
