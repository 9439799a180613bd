//! The rule that `DEVELOPERS.md` shows is one that is compiled, and tried here with the others.

#[test]
fn the_rule_that_is_shown_is_one_of_ours() {
    let page = include_str!("../../DEVELOPERS.md");
    let shown = page.split("```rust\n").skip(1);
    let shown: Vec<&str> = shown.filter_map(|rest| rest.split("```").next()).collect();
    assert_eq!(shown, [include_str!("../../src/rules/shared_panels.rs")]);
}
