//! Sound plans, read to the values they mean.

use super::{PLAN, SHORT, read};
use crate::names::*;
use crate::plan::*;

fn names(panels: &[PanelName]) -> Vec<String> {
    panels.iter().map(ToString::to_string).collect()
}

#[test]
fn a_short_plan_is_filled_with_defaults() {
    let plan = read(SHORT).unwrap();
    assert_eq!(plan.title, "The Winter Bus");
    assert_eq!(plan.language, "en-GB");
    assert_eq!(plan.manuscript, "winter-bus.txt");
    assert_eq!(plan.manuscript_place.unwrap().line(), 3);
    assert_eq!(plan.date, None);
    assert_eq!(plan.paper.first_fold, FoldKind::Mountain);
    assert_eq!(
        plan.paper.safety,
        Safety {
            fold: Length::mm(6),
            edge: Length::mm(5)
        }
    );
    assert_eq!(plan.text.size, Length::pt(11));
    assert_eq!(plan.text.leading, Length::pt(15));
    assert_eq!(plan.text.stanza_space, HalfLines::LINE);
    assert_eq!(plan.text.turnover, Turnover::Indent(Length::pt(22)));
    assert_eq!(
        plan.text.margins,
        Margins {
            head: Length::mm(14),
            foot: Length::mm(16),
            left: Length::mm(11),
            right: Length::mm(11),
            by_folds: false,
        }
    );
    assert!(plan.rules.is_hard(RuleName::PictureComes));
    assert_eq!(plan.rules.picture_comes, None);
    let [body] = &plan.parts[..] else {
        panic!("one part");
    };
    assert_eq!((body.name.as_str(), body.place.as_ref()), ("body", None));
    assert_eq!(body.on.len(), 16);
    assert_eq!(names(&body.on[7..9]), ["front 8", "back 1"]);
}

#[test]
fn boards_fold_the_other_way_and_close_the_outside() {
    let boards = SHORT.replace("[paper]", "[paper]\ncover = \"boards\"");
    let plan = read(&boards).unwrap();
    assert_eq!(plan.paper.first_fold, FoldKind::Valley);
    let on = names(&plan.parts[0].on);
    assert_eq!(on.len(), 14);
    assert_eq!(
        (on[0].as_str(), on[8].as_str(), on[13].as_str()),
        ("front 1", "back 2", "back 7")
    );
    let none_left = "[paper]\ncover = \"boards\"\nsides = \"front\"\nfirst-fold = \"mountain\"";
    let none_left = SHORT
        .replace("[paper]", none_left)
        .replace("side = 8", "side = 2");
    let faults = read(&none_left).unwrap_err();
    assert_eq!(
        faults[0].what,
        "no panel is left for words: the boards take them all"
    );
    assert_eq!(faults.len(), 1);
}

#[test]
fn usual_leading_is_a_tenth_of_a_point() {
    let sized = |size: &str| {
        let text = format!("{SHORT}[text]\nsize = \"{size}\"\n");
        read(&text).unwrap().text.leading.as_pt()
    };
    assert_eq!(sized("11 pt"), 15.0);
    assert_eq!(sized("10 pt"), 13.6);
    assert_eq!(sized("10.2 pt"), 13.9);
}

#[test]
fn a_full_plan_is_read_to_what_it_says() {
    let plan = read(PLAN).unwrap();
    assert_eq!(
        plan.date,
        Some(Date {
            year: 2026,
            month: 11,
            day: 25
        })
    );
    assert_eq!(plan.paper.cover, Cover::Boards);
    assert_eq!(plan.paper.safety.fold, Length::mm(7));
    assert_eq!(plan.paper.safety.edge, Length::mm(5));
    let text = &plan.text;
    assert_eq!(
        text.fallback[1].named,
        TypefaceNamed::File("fonts/Own.TTF".into())
    );
    let feature = |tag: &[u8; 4], value| Feature { tag: *tag, value };
    let expected = [
        feature(b"onum", 1),
        feature(b"liga", 0),
        feature(b"ss01", 2),
    ];
    assert_eq!(text.features, expected);
    assert_eq!(text.margins.head, Length::pt(33));
    assert_eq!(text.margins.left, Length::mm(11));
    assert_eq!(text.stanza_space, HalfLines::new(3));
    assert_eq!(text.turnover, Turnover::Indent(Length::pt(30)));
    let opening = Opening::Phrase {
        drop: 3,
        then: OpeningWords::AsWritten,
    };
    assert_eq!(text.opening, opening);
    let ink = Ink::Spot {
        name: "Night blue".to_string(),
        cmyk: [1000, 800, 0, 255],
    };
    assert_eq!(text.ink, ink);
    let rules = &plan.rules;
    assert_eq!(rules.each_panel, EachPanel::Lines(4));
    assert!(rules.is_hard(RuleName::TextFullness) && !rules.is_hard(RuleName::PictureComes));
    assert_eq!(rules.weight(RuleName::TextFullness).importance, 3);
    assert_eq!(rules.weight(RuleName::EachPanel).importance, 0);
    assert_eq!((rules.text_in_a_row, rules.pictures_in_a_row), (3, 1));
    let blanks = Blanks {
        count: 2,
        at: BlanksAt::Start,
    };
    assert_eq!(rules.blanks, Some(blanks));
    assert_eq!(rules.ends_with, Some(Role::Picture));
    let asked: Vec<_> = plan.blank_before.iter().map(|asked| &*asked.name).collect();
    assert_eq!(asked, ["the pass"]);
    assert_eq!(
        plan.picture("the tunnel").unwrap().leaves.head,
        Some(Length::mm(90))
    );
}

/// A picture's own word goes before that of all; a distance and a spread may both be asked.
#[test]
fn pictures_come_as_they_are_asked_to() {
    use PictureWith::{NextSpread, SameSpread};
    let window = |soonest, latest| Some(Window { soonest, latest });
    let plan = read(PLAN).unwrap();
    let asked = |plan: &Plan, name: &str| (plan.picture_comes(name), plan.picture_with(name));
    assert_eq!(
        asked(&plan, "the tunnel"),
        (window(-1, 2), Some(SameSpread))
    );
    assert_eq!(asked(&plan, "the pass"), (window(0, 3), Some(NextSpread)));
    assert_eq!(asked(&plan, "the horn"), (window(-1, 2), Some(NextSpread)));
    let plan = read(&PLAN.replace("picture-with = \"next-spread\"\n", "")).unwrap();
    assert_eq!(
        asked(&plan, "the tunnel"),
        (window(-1, 2), Some(SameSpread))
    );
    assert_eq!(asked(&plan, "the pass"), (window(0, 3), None));
    assert_eq!(asked(&plan, "the horn"), (window(-1, 2), None));
}

#[test]
fn pictures_have_their_scans() {
    let plan = read(PLAN).unwrap();
    let art = plan.picture("the summit").unwrap().art.as_ref().unwrap();
    assert_eq!(art.file, "art/summit.tif");
    assert_eq!((art.place.line(), art.place.column()), (97, 7));
    assert_eq!(plan.picture("the tunnel").unwrap().art, None);
}

#[test]
fn parts_and_pins_go_over_the_text() {
    let plan = read(PLAN).unwrap();
    let colophon = plan.part("colophon").unwrap();
    assert_eq!(names(&colophon.on), ["back 2", "back 4", "back 5"]);
    assert_eq!(colophon.language, "de-AT");
    assert_eq!(colophon.text.size, Length::pt(10));
    assert_eq!(colophon.text.leading, plan.text.leading);
    assert_eq!(colophon.text.turnover, Turnover::Indent(Length::pt(25)));
    assert_eq!(colophon.text.align, Align::Right);
    assert_eq!(colophon.text.opening, Opening::None);
    assert_eq!(plan.part("body").unwrap().text.opening.drop(), Some(3));
    assert_eq!(colophon.place.as_ref().unwrap().line(), 70);
    let pin = plan.pin(PanelName::front(4)).unwrap();
    assert_eq!(pin.role, Some(Role::Shared));
    assert_eq!(
        pin.margins.over(plan.text.margins, Edge::Left).left,
        Length::pt(12)
    );
    assert_eq!(
        pin.safety,
        Some(Safety {
            fold: Length::mm(7),
            edge: Length::ZERO
        })
    );
    let title = plan.pin(PanelName::front(2)).unwrap();
    assert_eq!(title.begins.as_ref().unwrap().words, "She drove the bus");
    assert_eq!(title.safety, None);
}

#[test]
fn a_part_has_its_own_settings_and_the_others_are_those_of_the_text() {
    let own = "size = \"10 pt\"\nleading = \"2 em\"\nmargins = { head = \"3 lines\" }\n\
               vertical = \"foot\"\nfeatures = [\"lnum\"]\nhyphenate = true\n\
               turnover = \"right\"\nhang = \"none\"\n";
    let plan = read(&PLAN.replacen("size = \"10 pt\"\n", own, 1)).unwrap();
    let text = &plan.part("colophon").unwrap().text;
    assert_eq!(text.leading, Length::pt(20));
    assert_eq!(text.margins.head, Length::pt(60));
    assert_eq!(text.margins.foot, plan.text.margins.foot);
    assert_eq!(text.vertical, Vertical::Foot);
    assert_eq!(text.features.len(), 1);
    assert_eq!(text.hyphenate, Some(true));
    assert_eq!(text.turnover, Turnover::Right);
    assert_eq!((text.hang, text.prose_hang), (Hang::None, Hang::None));
    assert_eq!(text.paragraph_indent, Length::pt(10));
    assert_eq!(text.stanza_space, plan.text.stanza_space);
    let body = plan.part("body").unwrap();
    assert_eq!(body.text, plan.text);
    assert!(!plan.has_own_grid(body) && plan.has_own_grid(plan.part("colophon").unwrap()));
}

/// A part that names a side goes by sides, whatever the text does; but one side alone cannot stand beside an inner one.
#[test]
fn a_parts_margins_go_over_those_of_the_text() {
    let margins = |of_text: &str, own: &str| {
        let text = format!(
            "{SHORT}[text]\nmargins = {{ {of_text} }}\n[[part]]\nname = \"body\"\n\
             on = [\"front 1 to front 8\"]\nmargins = {{ {own} }}\n"
        );
        read(&text).map(|plan| plan.parts[0].text.margins)
    };
    let mm = |head, left, right, by_folds| Margins {
        head: Length::mm(head),
        foot: Length::mm(16),
        left: Length::mm(left),
        right: Length::mm(right),
        by_folds,
    };
    let folds = "inner = \"15 mm\", outer = \"10 mm\"";
    let sides = "left = \"12 mm\", right = \"9 mm\"";
    assert_eq!(
        margins(folds, "head = \"20 mm\"").unwrap(),
        mm(20, 15, 10, true)
    );
    assert_eq!(margins(folds, sides).unwrap(), mm(14, 12, 9, false));
    assert_eq!(margins(sides, folds).unwrap(), mm(14, 15, 10, true));
    assert_eq!(
        margins(sides, "left = \"20 mm\"").unwrap(),
        mm(14, 20, 9, false)
    );
    let faults = margins(folds, "left = \"20 mm\"").unwrap_err();
    let place = faults[0].place.as_ref().unwrap();
    assert_eq!((faults.len(), faults[0].word), (1, "contradiction"));
    assert!(place.column() > 1);
}

#[test]
fn a_byte_order_mark_and_windows_line_ends_are_no_matter() {
    let text = format!("\u{feff}{}", SHORT.replace('\n', "\r\n"));
    assert_eq!(read(&text).unwrap().title, "The Winter Bus");
    let faults = read("\u{feff}titl = \"The Winter Bus\"\r\n").unwrap_err();
    let place = faults[0].place.as_ref().unwrap();
    assert_eq!((place.line(), place.column()), (1, 1));
}

#[test]
fn a_stretch_runs_from_the_front_to_the_back() {
    let text = format!("{SHORT}[[part]]\nname = \"body\"\non = [\"front 7 to back 2\"]\n");
    let plan = read(&text).unwrap();
    assert_eq!(
        names(&plan.parts[0].on),
        ["front 7", "front 8", "back 1", "back 2"]
    );
}

/// A word may stand where a table would say more; what is counted may be lines or stanzas.
#[test]
fn rules_are_asked_by_words_by_tables_and_by_numbers() {
    let rules = |asked: &str| read(&format!("{SHORT}[rules]\n{asked}\n")).unwrap().rules;
    let ends = |at, white| {
        let white = Percent(white);
        Some(PanelsEnd { at, white })
    };
    for (asked, expected) in [
        ("\"sentence\"", ends(PanelEnd::Sentence, 35)),
        (
            "{ at = \"stanza\", white = \"30 %\" }",
            ends(PanelEnd::Stanza, 30),
        ),
        ("{ white = \"20 %\" }", ends(PanelEnd::Paragraph, 20)),
    ] {
        assert_eq!(rules(&format!("panels-end = {asked}")).panels_end, expected);
    }
    for (asked, expected) in [
        ("stanza", EachPanel::Stanzas(1)),
        ("1 stanza", EachPanel::Stanzas(1)),
        ("12 stanzas", EachPanel::Stanzas(12)),
        ("1 line", EachPanel::Lines(1)),
    ] {
        assert_eq!(
            rules(&format!("each-panel = \"{asked}\"")).each_panel,
            expected
        );
    }
}

#[test]
fn pictures_to_be_revealed_are_named_and_stand_on_the_next_spread() {
    let asked = "[rules]\nreveal = [\"the tunnel\"]\n";
    let plan = read(&format!("{SHORT}{asked}")).unwrap();
    let names: Vec<_> = plan.reveal.iter().map(|asked| &*asked.name).collect();
    assert_eq!(names, ["the tunnel"]);
    let same = "picture-with = \"same-spread\"\n";
    let own = |with| format!("[[picture]]\nname = \"the tunnel\"\npicture-with = \"{with}\"\n");
    // A picture's own word goes before that of all.
    let next = format!("{SHORT}{asked}{same}{}", own("next-spread"));
    assert!(read(&next).is_ok());
    for against in [
        format!("{asked}{same}"),
        format!("{asked}{}", own("same-spread")),
    ] {
        let faults = read(&format!("{SHORT}{against}")).unwrap_err();
        let told: Vec<_> = faults
            .iter()
            .map(|fault| (fault.word, fault.also.len()))
            .collect();
        assert_eq!(told, [("contradiction", 1)]);
    }
}
