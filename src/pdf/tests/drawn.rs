//! Reading a page's operators as a printer's program does, with a parser that the writer does not use.

use lopdf::content::{Content, Operation};
use lopdf::{Dictionary, Document, Object};

/// What is painted, and how.
#[derive(Clone, Debug, PartialEq)]
pub struct Painted {
    /// `Tj`, `f`, `S` …
    pub operator: String,
    /// The colour operator in force, with its operands in thousandths, its space's name where it has one, and the
    /// graphics state's name.
    pub colour: PaintedColour,
    /// The tags of the marked content around it, from the outside: a group's tag is its name.
    pub within: Vec<String>,
    pub clipped: bool,
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct PaintedColour {
    pub operator: String,
    pub operands: Vec<i64>,
    pub space: String,
    pub state: String,
}

#[derive(Clone, Default)]
struct PaintState {
    fill: PaintedColour,
    line: PaintedColour,
    clipped: bool,
}

/// The first page of a file, and its document.
pub fn first_page(pdf: &[u8]) -> (Document, Dictionary) {
    let document = Document::load_mem(pdf).expect("a PDF");
    let page = document.page_iter().next().expect("a page");
    let page = document.get_dictionary(page).expect("a page").clone();
    (document, page)
}

pub fn operations(pdf: &[u8]) -> Vec<Operation> {
    let document = Document::load_mem(pdf).expect("a PDF");
    let page = document.page_iter().next().expect("a page");
    let content = document.get_page_content(page);
    Content::decode(&content).expect("operators").operations
}

pub fn numbers(operands: &[Object]) -> Vec<f64> {
    let numbers = operands.iter().filter_map(|one| one.as_float().ok());
    numbers.map(f64::from).collect()
}

fn name(object: Option<&Object>) -> String {
    let name = object.and_then(|object| object.as_name().ok());
    String::from_utf8_lossy(name.unwrap_or_default()).into_owned()
}

/// Everything that the first page paints, in its order.
///
/// Panics where marked content and saved states cross each other, or are left open.
pub fn painted(pdf: &[u8]) -> Vec<Painted> {
    let mut now = PaintState::default();
    let mut saved: Vec<(PaintState, usize)> = Vec::new();
    let mut within: Vec<(String, usize)> = Vec::new();
    let mut painted = Vec::new();
    for Operation { operator, operands } in operations(pdf) {
        let line = operator.chars().all(char::is_uppercase);
        let colour = if line { &mut now.line } else { &mut now.fill };
        match operator.as_str() {
            "q" => saved.push((now.clone(), within.len())),
            "Q" => {
                let (state, depth) = saved.pop().expect("a state was saved");
                assert_eq!(depth, within.len(), "a state ends within marked content");
                now = state;
            }
            "BDC" | "BMC" => {
                let tag = name(operands.first());
                let group = (tag == "OC").then(|| name(operands.get(1)));
                within.push((group.unwrap_or(tag), saved.len()));
            }
            "EMC" => {
                let (_, depth) = within.pop().expect("marked content was begun");
                assert_eq!(depth, saved.len(), "marked content ends within a state");
            }
            "W" => now.clipped = true,
            "gs" => {
                now.fill.state = name(operands.first());
                now.line.state = now.fill.state.clone();
            }
            "cs" | "CS" => colour.space = name(operands.first()),
            "g" | "rg" | "k" | "scn" | "G" | "RG" | "K" | "SCN" => {
                if !matches!(operator.as_str(), "scn" | "SCN") {
                    colour.space.clear();
                }
                let thousandths = |number: f64| (number * 1000.0).round() as i64;
                colour.operands = numbers(&operands).into_iter().map(thousandths).collect();
                colour.operator = operator;
            }
            "f" | "S" | "s" | "Tj" | "TJ" => painted.push(Painted {
                colour: if matches!(operator.as_str(), "S" | "s") {
                    now.line.clone()
                } else {
                    now.fill.clone()
                },
                operator,
                within: within.iter().map(|(tag, _)| tag.clone()).collect(),
                clipped: now.clipped,
            }),
            _ => {}
        }
    }
    assert!(
        saved.is_empty() && within.is_empty(),
        "something stays open"
    );
    painted
}
