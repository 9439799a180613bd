//! Inks: what a layer tells the press about the colour of its words.

use lopdf::content::{Content, Operation};
use lopdf::{Dictionary, Document, Object};

use crate::support::{run_in, small_plan, temporary, write_book};

/// The operators that set a colour or a colour space.
const COLOURS: [&str; 13] = [
    "g", "G", "k", "K", "rg", "RG", "cs", "CS", "sc", "scn", "SC", "SCN", "sh",
];

/// How the words of a layer are coloured.
struct Coloured {
    /// The colour operators in force where words are shown, with their operands.
    operators: Vec<(String, Vec<Object>)>,
    /// Whether the graphics state there overprints, for strokes and for fills, and in which mode.
    overprints: (bool, bool, Option<i64>),
    resources: Dictionary,
    document: Document,
}

fn coloured(ink: &str, command: &[&str]) -> Coloured {
    let temp = temporary();
    let plan = small_plan(2, &format!("\n[text]\nink = {ink}\n"));
    write_book(temp.path(), &plan, "One long, before a bend.\nTwo short.\n");
    run_in(temp.path(), command).done();
    let document = Document::load(temp.path().join("out/layers/front-01.pdf")).expect("a PDF");
    let page = document.page_iter().next().expect("a page");
    let page_dict = document.get_dictionary(page).expect("a page");
    let resources = page_dict.get(b"Resources").expect("resources");
    let resources = document.dereference(resources).expect("resources").1;
    let resources = resources.as_dict().expect("a dictionary").clone();
    let content = document.get_page_content(page);
    let operations = Content::decode(&content).expect("operators").operations;
    let state = state_where_shown(&operations);
    let overprints = overprinting(&document, &resources, &state);
    let operators = operations
        .iter()
        .filter(|operation| COLOURS.contains(&operation.operator.as_str()))
        .map(|operation| (operation.operator.clone(), operation.operands.clone()))
        .collect();
    Coloured {
        operators,
        overprints,
        resources,
        document,
    }
}

/// The name of the graphics state set before the first words; all colours are set before them too.
fn state_where_shown(operations: &[Operation]) -> Vec<u8> {
    let is = |operation: &Operation, list: &[&str]| list.contains(&operation.operator.as_str());
    let shown = operations
        .iter()
        .position(|operation| is(operation, &["TJ", "Tj", "f"]));
    let shown = shown.expect("words are shown");
    let late = operations[shown..]
        .iter()
        .find(|operation| is(operation, &COLOURS) || is(operation, &["gs"]));
    assert!(late.is_none(), "the colour changes among the words");
    let mut before = operations[..shown].iter().rev();
    let state = before.find(|operation| is(operation, &["gs"]));
    let state = state.expect("a graphics state is set");
    state.operands[0].as_name().expect("a name").to_vec()
}

fn overprinting(
    document: &Document,
    resources: &Dictionary,
    name: &[u8],
) -> (bool, bool, Option<i64>) {
    let states = resources.get(b"ExtGState").expect("graphics states");
    let states = document.dereference(states).expect("there").1;
    let state = states.as_dict().expect("a dictionary").get(name);
    let state = document
        .dereference(state.expect("the state"))
        .expect("there")
        .1;
    let state = state.as_dict().expect("a dictionary");
    let flag = |key: &[u8]| state.get(key).and_then(Object::as_bool).expect("a flag");
    let mode = state.get(b"OPM").and_then(Object::as_i64).ok();
    (flag(b"OP"), flag(b"op"), mode)
}

impl Coloured {
    /// The only colour operator, and its operands in thousandths.
    fn only(&self) -> (&str, Vec<i64>) {
        let [(operator, operands)] = &self.operators[..] else {
            panic!("{:?}", self.operators);
        };
        (operator, thousandths(operands))
    }
}

fn thousandths(operands: &[Object]) -> Vec<i64> {
    let number = |operand: &Object| operand.as_float().expect("a number");
    operands
        .iter()
        .map(|operand| (number(operand) * 1000.0).round() as i64)
        .collect()
}

#[test]
fn black_prints_over_the_art_and_every_other_ink_knocks_it_out() {
    for command in [
        &["layers", "--quiet"][..],
        &["layers", "--quiet", "--as-paths"],
    ] {
        let black = coloured("\"black\"", command);
        assert_eq!(black.only(), ("k", vec![0, 0, 0, 1000]));
        assert_eq!(black.overprints, (true, true, Some(1)));
        for (ink, operator, operands) in [
            ("\"reversed-out\"", "k", vec![0, 0, 0, 0]),
            ("{ grey = 0.3 }", "g", vec![300]),
            (
                "{ cmyk = [0.1, 0.2, 0.3, 0.4] }",
                "k",
                vec![100, 200, 300, 400],
            ),
            ("{ rgb = [0.5, 0.25, 1] }", "rg", vec![500, 250, 1000]),
        ] {
            let found = coloured(ink, command);
            assert_eq!(found.only(), (operator, operands), "{ink}");
            let (stroke, fill, _) = found.overprints;
            assert!(!stroke && !fill, "{ink} prints over the art");
        }
    }
}

#[test]
fn a_spot_ink_has_a_plate_of_its_own() {
    let spot = coloured(
        "{ spot = \"Bus Yellow\", cmyk = [0, 0.2, 0.9, 0.05] }",
        &["layers", "--quiet"],
    );
    assert_eq!(spot.overprints, (false, false, None));
    let [(space, name), (paint, tint)] = &spot.operators[..] else {
        panic!("{:?}", spot.operators);
    };
    assert_eq!((space.as_str(), paint.as_str()), ("cs", "scn"));
    assert_eq!(thousandths(tint), [1000]);
    let get = |object: &Object| spot.document.dereference(object).expect("there").1.clone();
    let spaces = get(spot.resources.get(b"ColorSpace").expect("colour spaces"));
    let name = name[0].as_name().expect("a name");
    let space = get(spaces.as_dict().and_then(|s| s.get(name)).expect("there"));
    let [kind, plate, alternate, function] = &space.as_array().expect("an array")[..] else {
        panic!("{space:?}");
    };
    assert_eq!(kind.as_name().ok(), Some(&b"Separation"[..]));
    assert_eq!(plate.as_name().ok(), Some(&b"Bus Yellow"[..]));
    assert_eq!(alternate.as_name().ok(), Some(&b"DeviceCMYK"[..]));
    let function = get(function);
    let function = match &function {
        Object::Stream(stream) => &stream.dict,
        other => other.as_dict().expect("a dictionary"),
    };
    let entry = |key: &[u8]| {
        thousandths(
            function
                .get(key)
                .and_then(Object::as_array)
                .expect("numbers"),
        )
    };
    assert_eq!(entry(b"C0"), [0, 0, 0, 0]);
    assert_eq!(entry(b"C1"), [0, 200, 900, 50]);
    assert_eq!(
        function.get(b"FunctionType").and_then(Object::as_i64).ok(),
        Some(2)
    );
    let exponent = function.get(b"N").and_then(Object::as_float);
    assert_eq!(exponent.ok(), Some(1.0));
}
