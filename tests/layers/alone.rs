//! A picture that stands alone on several panels, with its caption on one of them.

use versefold::assets::Assets;
use versefold::book::build_problem;
use versefold::book::plan_file::check;
use versefold::division::{Division, PanelDivision, PartDivision};
use versefold::layout::{ComposeInput, Layout, compose, verify};
use versefold::names::{Length, PanelName, Role, Source};
use versefold::paper::Strip;
use versefold::setting::set;
use versefold::text::{LineKind, Manuscript};
use versefold::typeface::FontLibrary;

const PLAN: &str = "\
title = \"The Winter Bus\"
language = \"en-GB\"
manuscript = \"winter-bus.txt\"
[paper]
panel-width = \"105 mm\"
panel-height = \"148 mm\"
panels-per-side = 4
sides = \"front\"
[[picture]]
name = \"the tunnel\"
spans = 2
leaves = { head = \"120 mm\", left = \"20 mm\" }
[[panel]]
panel = \"front 3\"
role = \"picture\"
";

const POEM: &str = "\
The bus climbs
[picture: the tunnel]
[caption: the tunnel]
The north portal
out of the valley
";

/// The words of each panel, and what they are.
fn told(layout: &Layout) -> Vec<Vec<(&str, &LineKind)>> {
    let lines = |panel: usize| layout.panels[panel].lines.iter();
    (0..layout.panels.len())
        .map(|panel| {
            lines(panel)
                .map(|line| (line.text.as_str(), &line.kind))
                .collect()
        })
        .collect()
}

/// The rows of each panel are given by hand: the stanza, the caption, the rest of the stanza.
fn laid_out(caption_on: usize) -> Layout {
    let manuscript = Manuscript::read(&Source::new("winter-bus.txt", POEM)).expect("a manuscript");
    let plan = check::read(&Source::new("concertina.toml", PLAN)).expect("a plan");
    let strip = Strip::new(plan.paper);
    let fonts = FontLibrary::new(Assets::memory());
    let lines = set(&manuscript, &plan, &strip, &fonts).expect("lines");
    let problem =
        build_problem(&manuscript, &plan, &strip, &lines, &lines.parts[0]).expect("a problem");
    let rows = [0..1, 1..1, 1..1, 2..3];
    let panels = rows.into_iter().enumerate().map(|(index, mut rows)| {
        let pictured = index == 1 || index == 2;
        if pictured {
            rows = if index < caption_on { 1..1 } else { 2..2 };
            if index == caption_on {
                rows = 1..2;
            }
        }
        let area = match pictured {
            true => problem.panels[index].shared[0],
            false => problem.panels[index].area,
        };
        let area = area.expect("a text area");
        PanelDivision {
            panel: PanelName::front(index as u16 + 1),
            role: if pictured { Role::Picture } else { Role::Text },
            used: problem.depth(area.column, rows.start, rows.end),
            rows,
            picture: pictured.then_some(0),
            capacity: area.capacity,
            costs: Vec::new(),
        }
    });
    let part = PartDivision {
        panels: panels.collect(),
        cost: 0,
        proved: true,
        bound: 0,
        gave_way: Vec::new(),
    };
    let layout = compose(ComposeInput {
        breaks: None,
        lost: &[],
        manuscript: &manuscript,
        plan: &plan,
        strip: &strip,
        set: &lines,
        problems: &[problem.into()],
        division: &Division { parts: vec![part] },
        typeface: &fonts.typeface(&plan.text).expect("a typeface"),
    })
    .expect("no panel is passed");
    verify(&manuscript, &layout).expect("every word once");
    layout
}

#[test]
fn a_caption_stands_in_the_room_that_its_picture_leaves() {
    use LineKind::{Caption, Verse};
    for caption_on in [1, 2] {
        let layout = laid_out(caption_on);
        let mut expected = vec![
            vec![("The bus climbs", &Verse)],
            vec![],
            vec![],
            vec![("out of the valley", &Verse)],
        ];
        expected[caption_on].push(("The north portal", &Caption));
        assert_eq!(told(&layout), expected);
        let caption = &layout.panels[caption_on].lines[0];
        assert_eq!(caption.x, Length::mm(20));
        assert!(caption.baseline > Length::mm(120));
        let on: Vec<PanelName> = [2, 3].map(PanelName::front).to_vec();
        let on: Vec<Vec<PanelName>> = vec![vec![], on.clone(), on, vec![]];
        let panels = || layout.panels.iter();
        assert!(panels().map(|panel| &panel.picture_panels).eq(&on));
        assert!(
            panels()
                .map(|panel| panel.goes_on())
                .eq([false, false, true, false])
        );
        // The stanza goes on behind the picture, not on it.
        assert!(
            panels()
                .map(|panel| panel.continues)
                .eq([false, false, false, true])
        );
    }
}
