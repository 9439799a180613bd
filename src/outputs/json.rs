//! `layout.json`: the layout for other programs, and the record of what was done.
//!
//! Lengths are in millimetres from the panel's top-left corner, unless a name ends in `_pt`. `shown` is a fingerprint
//! of what a panel's layer shows: while it stays, a layer that was placed need not be replaced.

use serde_json::{Map, Value, json};

use super::WordsAs;
use super::shown::shown;
use crate::layout::{LaidLine, LaidPanel, Layout};
use crate::names::Length;
use crate::names::PanelName;
use crate::paper::Strip;

/// The layout as pretty-printed JSON with a line end, and how the layers beside it hold their words.
pub fn json(layout: &Layout, words_as: WordsAs) -> Vec<u8> {
    let mut value = layout_value(layout);
    value["words_as"] = json!(words_as.word());
    let mut bytes = serde_json::to_vec_pretty(&value).unwrap_or_default();
    bytes.push(b'\n');
    bytes
}

/// The layout as a JSON value.
pub fn layout_value(layout: &Layout) -> Value {
    let gave_way = layout.gave_way.iter();
    let panels = layout.panels.iter().zip(shown(layout));
    let panels = panels.map(|(laid, shown)| {
        let mut value = panel(laid);
        value["shown"] = json!(shown);
        value
    });
    let mut value = json!({
        "title": layout.title,
        "language": layout.language,
        "cost": layout.cost,
        "proved": layout.proved,
        "gave_way": gave_way.map(|(part, rule)| json!({ "part": part, "rule": rule.word() }))
            .collect::<Vec<_>>(),
        "panels": panels.collect::<Vec<_>>(),
        "strip": strip(&layout.strip),
    });
    if !layout.proved {
        value["bound"] = json!(layout.bound);
    }
    value
}

/// Millimetres to the nearest ten-thousandth: a tenth of a micrometre.
fn mm(length: Length) -> Value {
    json!((length.as_mm() * 10_000.0).round() / 10_000.0)
}

fn pt(length: Length) -> Value {
    json!((length.as_pt() * 10_000.0).round() / 10_000.0)
}

fn panel(panel: &LaidPanel) -> Value {
    let rectangle = |left: Length, top: Length, (width, height): (Length, Length)| {
        json!({
            "x_mm": mm(left), "y_mm": mm(top),
            "width_mm": mm(width), "height_mm": mm(height),
        })
    };
    let of_shape = panel.shape.iter();
    let of_shape = of_shape.map(|one| rectangle(one.left, one.top, (one.width, one.height)));
    let ordinary = panel.area.iter().filter(|_| panel.shape.is_empty());
    let ordinary = ordinary.map(|area| rectangle(area.left, area.top, (area.width, area.height)));
    let areas: Vec<Value> = of_shape.chain(ordinary).collect();
    let costs: Map<String, Value> = panel
        .costs
        .iter()
        .map(|(rule, cost)| (rule.word().to_string(), json!(cost)))
        .collect();
    let mut value = json!({
        "panel": panel.panel.to_string(),
        "role": panel.role.word(),
        "picture": panel.picture,
        "picture_panels": panel.picture.as_ref().map(|_| names(&panel.picture_panels)),
        "width_mm": mm(panel.size.0),
        "height_mm": mm(panel.size.1),
        "text_areas": areas,
        "fullness": panel.share().map(|share| (share * 10_000.0).round() / 10_000.0),
        "costs": costs,
        "lines": panel.lines.iter().map(line).collect::<Vec<_>>(),
    });
    if panel.passed {
        value["passed"] = json!(true);
    }
    value
}

fn names(panels: &[PanelName]) -> Vec<String> {
    panels.iter().map(ToString::to_string).collect()
}

fn line(line: &LaidLine) -> Value {
    let wholly_added = line.part.is_none();
    json!({
        "part": line.part,
        "text": if wholly_added { "" } else { &line.text },
        "x_mm": mm(line.x),
        "baseline_mm": mm(line.baseline),
        "width_mm": mm(line.width),
        "measure_mm": mm(line.measure),
        "size_pt": pt(line.size),
        "turnover": line.turnover,
        "added": line.added,
        "sources": line.sources,
    })
}

fn strip(strip: &Strip) -> Value {
    let pair = |pair: (PanelName, PanelName)| json!(names(&[pair.0, pair.1]));
    let spreads = strip.sides().iter().flat_map(|side| strip.spreads(*side));
    let behind = strip.panels().filter_map(|panel| {
        let other = strip.behind(panel)?;
        let first = panel.side == crate::names::Side::Front && strip.paper().panels.contains(other);
        first.then_some((panel, other))
    });
    let folds: Vec<Value> = strip
        .folds()
        .iter()
        .map(|fold| {
            json!({
                "after": fold.after.to_string(),
                "from_left_mm": mm(fold.from_left),
                "fold": fold.kind.word(),
            })
        })
        .collect();
    json!({
        "length_mm": mm(strip.length()),
        "height_mm": mm(strip.paper().panel_height),
        "folds": folds,
        "spreads": spreads.map(pair).collect::<Vec<_>>(),
        "outside": names(&strip.outside()),
        "behind": behind.map(pair).collect::<Vec<_>>(),
    })
}
