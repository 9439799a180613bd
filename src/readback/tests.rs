//! Whole small PDFs, made with the writer's library and read back.

use pdf_writer::types::{CidFontType, SystemInfo, UnicodeCmap};
use pdf_writer::{Content, Finish, Name, Pdf, Rect, Ref, Str, TextStr};

use super::*;

const PAGE: Ref = Ref::new(3);
const ROUNDS: usize = 1500;
const FONT: Name = Name(b"F0");

/// An element below Document/Div.
struct Element {
    role: &'static [u8],
    mcids: &'static [i32],
    actual: Option<&'static str>,
}

const fn paragraph(mcids: &'static [i32]) -> Element {
    Element {
        role: b"P",
        mcids,
        actual: None,
    }
}

/// A string of two-byte codes: here a code is the character it stands for.
fn codes(text: &str) -> Vec<u8> {
    text.encode_utf16().flat_map(u16::to_be_bytes).collect()
}

fn show(content: &mut Content, text: &str) {
    content.begin_text().set_font(FONT, 11.0);
    content.show(Str(&codes(text))).end_text();
}

fn marked(content: &mut Content, mcid: i32, text: &str) {
    content
        .begin_marked_content_with_properties(Name(b"P"))
        .properties()
        .identify(mcid);
    show(content, text);
    content.end_marked_content();
}

/// A one-page book with `content`, a form `X0` that shows " pass" and the elements given.
fn book(content: Content, elements: &[Element]) -> Vec<u8> {
    let mut pdf = Pdf::new();
    let [catalog, pages, root] = [1, 2, 4].map(Ref::new);
    let [contents, form, info] = [7, 8, 9].map(Ref::new);
    let mut cat = pdf.catalog(catalog);
    cat.pages(pages).lang(TextStr("en-GB"));
    cat.pair(Name(b"StructTreeRoot"), root);
    cat.finish();
    pdf.document_info(info)
        .title(TextStr("The Winter Bus — 1961"));
    pdf.pages(pages)
        .kids([PAGE])
        .count(1)
        .media_box(Rect::new(0.0, 0.0, 200.0, 300.5));
    let mut page = pdf.page(PAGE);
    page.parent(pages).contents(contents);
    page.trim_box(Rect::new(10.0, 10.0, 190.0, 290.5));
    let mut resources = page.resources();
    resources.fonts().pair(FONT, Ref::new(20));
    resources.x_objects().pair(Name(b"X0"), form);
    resources.properties().insert(Name(b"M0")).identify(7);
    resources.finish();
    page.finish();
    pdf.stream(contents, &content.finish());
    let mut inner = Content::new();
    show(&mut inner, " pass");
    pdf.form_xobject(form, &inner.finish())
        .bbox(Rect::new(0.0, 0.0, 9.0, 9.0));
    tree(&mut pdf, root, elements);
    font(&mut pdf);
    pdf.finish()
}

/// The structure tree at `root`: Document, Div, and the elements.
fn tree(pdf: &mut Pdf, root: Ref, elements: &[Element]) {
    let [document, div] = [5, 6].map(Ref::new);
    pdf.indirect(root)
        .dict()
        .pair(Name(b"Type"), Name(b"StructTreeRoot"))
        .pair(Name(b"K"), document);
    pdf.struct_element(document)
        .custom_kind(Name(b"Document"))
        .parent(root)
        .child(div);
    let kids = (0..elements.len()).map(|n| Ref::new(40 + n as i32));
    let mut group = pdf.struct_element(div);
    group
        .custom_kind(Name(b"Div"))
        .parent(document)
        .lang(TextStr("de"));
    group.insert(Name(b"K")).array().items(kids.clone());
    group.finish();
    for (element, id) in elements.iter().zip(kids) {
        let mut written = pdf.struct_element(id);
        written
            .custom_kind(Name(element.role))
            .parent(div)
            .page(PAGE);
        if let Some(actual) = element.actual {
            written.actual_text(TextStr(actual));
        }
        let mut children = written.children();
        for (n, &mcid) in element.mcids.iter().enumerate() {
            if n % 2 == 0 {
                children.marked_content_id(mcid);
            } else {
                children
                    .marked_content_ref()
                    .page(PAGE)
                    .marked_content_id(mcid);
            }
        }
    }
}

fn font(pdf: &mut Pdf) {
    let [font, cid, descriptor, map, file] = [20, 21, 22, 23, 24].map(Ref::new);
    let name = Name(b"ABCDEF+Mountain");
    let info = SystemInfo {
        registry: Str(b"Adobe"),
        ordering: Str(b"Identity"),
        supplement: 0,
    };
    pdf.type0_font(font)
        .base_font(name)
        .encoding_predefined(Name(b"Identity-H"))
        .descendant_font(cid)
        .to_unicode(map);
    pdf.cid_font(cid)
        .subtype(CidFontType::Type2)
        .base_font(name)
        .system_info(info)
        .font_descriptor(descriptor);
    pdf.font_descriptor(descriptor).name(name).font_file2(file);
    let mut unicode = UnicodeCmap::<u16>::new(Name(b"Custom"), info);
    for c in ' '..='~' {
        unicode.pair(c as u16, c);
    }
    unicode.pair_with_multiple(0xF001, "fi".chars());
    pdf.cmap(map, &unicode.finish());
    pdf.stream(file, b"no real font");
}

fn full_book() -> Vec<u8> {
    let mut content = Content::new();
    marked(&mut content, 1, "over the");
    content
        .begin_marked_content_with_properties(Name(b"P"))
        .properties()
        .identify(0);
    show(&mut content, "The bus, ");
    content
        .begin_marked_content_with_properties(Name(b"Span"))
        .properties()
        .actual_text(TextStr("höher"));
    content.move_to(1.0, 1.0).line_to(2.0, 2.0).stroke();
    show(&mut content, "\u{1234}");
    content.end_marked_content();
    show(&mut content, " \u{f001}");
    content.end_marked_content();
    content.begin_marked_content(Name(b"Artifact"));
    show(&mut content, "12");
    content.end_marked_content();
    content
        .begin_marked_content_with_properties(Name(b"P"))
        .properties_named(Name(b"M0"));
    content.begin_text().save_state();
    content
        .set_font(FONT, 9.0)
        .show_positioned()
        .items()
        .show(Str(&codes("mountain")))
        .adjust(20.0);
    content.x_object(Name(b"X0"));
    content.restore_state().end_text().end_marked_content();
    book(content, &[paragraph(&[0]), paragraph(&[1, 7])])
}

#[test]
fn words_come_in_structure_order() {
    let read = words(&full_book()).unwrap();
    let page = &read.pages[0];
    let texts: Vec<_> = page
        .lines
        .iter()
        .map(|l| (l.text.as_str(), l.mcid))
        .collect();
    assert_eq!(
        texts,
        [
            ("The bus, höher fi", 0),
            ("over the", 1),
            ("mountain pass", 7)
        ]
    );
    assert_eq!(page.lines[2].structure, ["Document", "Div", "P"]);
    assert_eq!(page.lines[0].language.as_deref(), Some("de"));
    assert_eq!(page.drawn, "over the\nThe bus, höher fi\nmountain pass");
    assert_eq!(page.media_box, [0.0, 0.0, 200.0, 300.5]);
    assert_eq!(page.trim_box, Some([10.0, 10.0, 190.0, 290.5]));
    assert_eq!(page.bleed_box, None);
    assert_eq!(read.title.as_deref(), Some("The Winter Bus — 1961"));
    assert_eq!(read.language.as_deref(), Some("en-GB"));
    let font = FontSeen {
        name: "ABCDEF+Mountain".into(),
        embedded: true,
        subset: true,
    };
    assert_eq!(read.fonts, [font]);
}

#[test]
fn an_elements_replacement_stands_for_all_below_it() {
    let mut content = Content::new();
    marked(&mut content, 0, "The Winter");
    marked(&mut content, 1, "Bus");
    let span = Element {
        role: b"Span",
        mcids: &[0, 1],
        actual: Some("The Winter Bus"),
    };
    let read = words(&book(content, &[span])).unwrap();
    let lines = &read.pages[0].lines;
    assert_eq!((lines.len(), lines[0].mcid), (1, 0));
    assert_eq!(lines[0].text, "The Winter Bus");
    assert_eq!(lines[0].structure, ["Document", "Div", "Span"]);
}

fn refused(content: Content, elements: &[Element]) -> ReadError {
    words(&book(content, elements)).unwrap_err()
}

#[test]
fn a_code_without_unicode_is_named() {
    let mut content = Content::new();
    marked(&mut content, 0, "bus \u{1234}");
    let error = refused(content, &[paragraph(&[0])]);
    assert_eq!(
        error.to_string(),
        "page 1 shows code 1234 of the font ABCDEF+Mountain, which has no Unicode value"
    );
}

#[test]
fn untagged_text_is_refused() {
    let mut content = Content::new();
    show(&mut content, "snow");
    assert_eq!(
        refused(content, &[]),
        ReadError::Untagged {
            page: 1,
            text: "snow".into()
        }
    );
    let mut content = Content::new();
    content.x_object(Name(b"X0"));
    assert!(matches!(refused(content, &[]), ReadError::Untagged { .. }));
    let mut content = Content::new();
    content
        .begin_marked_content_with_properties(Name(b"Span"))
        .properties()
        .actual_text(TextStr("snow"));
    content.end_marked_content();
    assert!(matches!(refused(content, &[]), ReadError::Untagged { .. }));
}

#[test]
fn structure_and_content_must_agree() {
    let one = || {
        let mut content = Content::new();
        marked(&mut content, 0, "snow");
        content
    };
    let forgotten = refused(one(), &[]).to_string();
    assert!(
        forgotten.contains("content 0 of page 1 is missing"),
        "{forgotten}"
    );
    assert!(matches!(
        refused(one(), &[paragraph(&[0, 5])]),
        ReadError::Structure(_)
    ));
    let twice = [paragraph(&[0]), paragraph(&[0])];
    assert!(matches!(refused(one(), &twice), ReadError::Structure(_)));
    let mut content = one();
    marked(&mut content, 0, "snow");
    assert!(matches!(
        refused(content, &[paragraph(&[0])]),
        ReadError::Page { .. }
    ));
    let mut content = one();
    content.begin_marked_content(Name(b"P"));
    assert!(matches!(
        refused(content, &[paragraph(&[0])]),
        ReadError::Page { .. }
    ));
}

#[test]
fn what_is_no_pdf_is_refused() {
    for bytes in [&b""[..], b"The Winter Bus", b"%PDF-1.7\n%%EOF"] {
        assert!(matches!(words(bytes), Err(ReadError::Unreadable(_))));
    }
}

/// Repeatable numbers (Knuth's linear congruence), so that a failure can be found again.
fn dice(seed: &mut u64) -> usize {
    *seed = seed
        .wrapping_mul(6_364_136_223_846_793_005)
        .wrapping_add(1_442_695_040_888_963_407);
    (*seed >> 33) as usize
}

/// Damages a file in one to three places; with `keep_length` only where objects are, so that the
/// cross-references still hold and the damage is met further in.
fn damage(good: &[u8], seed: &mut u64, keep_length: bool) -> Vec<u8> {
    let mut bytes = good.to_vec();
    for _ in 0..=dice(seed) % 3 {
        let end = if keep_length {
            good.len() * 3 / 4
        } else {
            bytes.len()
        };
        let at = dice(seed) % end;
        match dice(seed) % if keep_length { 2 } else { 4 } {
            0 => bytes[at] ^= 1 << (dice(seed) % 8),
            1 => bytes[at] = b"0129<>[]/()% R"[dice(seed) % 14],
            2 => drop(bytes.remove(at)),
            _ => bytes.truncate(at.max(1)),
        }
    }
    bytes
}

#[test]
fn damaged_files_are_read_or_refused() {
    let good = full_book();
    let seed = &mut 1961;
    let mut read = 0;
    for round in 0..ROUNDS {
        match words(&damage(&good, seed, round % 3 != 0)) {
            Ok(_) => read += 1,
            Err(error) => assert!(!error.to_string().is_empty()),
        }
    }
    assert!((1..ROUNDS).contains(&read), "{read} were read");
}
