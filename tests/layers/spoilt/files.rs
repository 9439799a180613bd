//! Written layers, spoilt in one way at a time: F5 finds each when the file is read back.

use lopdf::content::{Content, Operation};
use lopdf::{Dictionary, Document, Object, ObjectId, StringFormat};
use versefold::layout::Promise;
use versefold::outputs::{Layer, WordsAs, layers};
use versefold::readback::proof::read_back;

use super::books;

/// What is spoilt, and how; nothing where a file has nothing of the kind.
type Way = (&'static str, fn(&mut Document) -> Option<()>);

const WAYS: &[Way] = &[
    ("words dropped", |pdf| {
        in_words(pdf, |words| {
            let at = shown(words, 0)?;
            words.remove(at);
            Some(())
        })
    }),
    ("words shown twice", |pdf| {
        in_words(pdf, |words| {
            let at = shown(words, 0)?;
            words.insert(at, words[at].clone());
            Some(())
        })
    }),
    ("words swapped", |pdf| {
        in_words(pdf, |words| {
            let (one, other) = (shown(words, 0)?, shown(words, 1)?);
            let differ = words[one].operands != words[other].operands;
            differ.then(|| words.swap(one, other))
        })
    }),
    ("other codes", |pdf| {
        in_words(pdf, |words| {
            let at = shown(words, 0)?;
            let code = strings(&mut words[at].operands).find(|code| code.len() >= 4)?;
            let differ = code[..2] != code[2..4];
            differ.then(|| code[..4].rotate_left(2))
        })
    }),
    ("words that nothing marks", |pdf| {
        in_words(pdf, |words| {
            let at = shown(words, 0)?;
            let end = (at..words.len()).find(|&at| words[at].operator == "ET")?;
            words.insert(end, words[at].clone());
            Some(())
        })
    }),
    ("words marked as no words", |pdf| {
        in_words(pdf, |words| {
            let mark = words.iter_mut().find(|mark| mark.operator == "BDC")?;
            mark.operands[0] = Object::Name(b"Artifact".to_vec());
            mark.operands[1].as_dict_mut().ok()?.remove(b"MCID")?;
            Some(())
        })
    }),
    ("words under another number", |pdf| {
        in_words(pdf, |words| {
            let mut marks = words
                .iter_mut()
                .filter_map(|mark| mark.operands.get_mut(1)?.as_dict_mut().ok());
            marks.find(|mark| mark.has(b"MCID"))?.set("MCID", 999);
            Some(())
        })
    }),
    ("an ActualText that says something else", |pdf| {
        in_words(pdf, |words| {
            actual_text(words)?.set(
                "ActualText",
                Object::String(b"bus".to_vec(), StringFormat::Literal),
            );
            Some(())
        })
    }),
    ("nothing on a page", |pdf| {
        in_words(pdf, |words| {
            words.clear();
            Some(())
        })
    }),
    ("two characters of ToUnicode swapped", |pdf| {
        let id = reference(pdf, "Type0", b"ToUnicode")?;
        let stream = pdf.get_object_mut(id).ok()?.as_stream_mut().ok()?;
        let map = stream.decompressed_content().ok()?;
        let map = String::from_utf8(map).ok()?;
        stream.set_plain_content(swapped(&map)?.into_bytes());
        Some(())
    }),
    ("a font without ToUnicode", |pdf| {
        font(pdf, "Type0")?.remove(b"ToUnicode").map(|_| ())
    }),
    ("a font that is not embedded", |pdf| {
        let descriptor = of_type(pdf, b"Type", "FontDescriptor")?;
        let keys: [&[u8]; 3] = [b"FontFile", b"FontFile2", b"FontFile3"];
        let descriptor = pdf.get_dictionary_mut(descriptor).ok()?;
        keys.iter()
            .find_map(|key| descriptor.remove(key))
            .map(|_| ())
    }),
    ("a font that is not named as a subset", |pdf| {
        let font = font(pdf, "Type0")?;
        font.set("BaseFont", Object::Name(b"Alegreya-Regular".to_vec()));
        Some(())
    }),
    ("a page gone", |pdf| {
        let page = *pages_with_words(pdf).first()?;
        pdf.delete_object(page).map(|_| ())
    }),
    ("pages in another order", |pdf| {
        // In a file with words on one page alone they are read as they were.
        pages_with_words(pdf).get(1)?;
        let pages = of_type(pdf, b"Type", "Pages")?;
        let pages = pdf.get_dictionary_mut(pages).ok()?;
        pages.get_mut(b"Kids").ok()?.as_array_mut().ok()?.reverse();
        Some(())
    }),
    ("stanzas in another order", |pdf| {
        children(pdf, "Document")?.reverse();
        Some(())
    }),
    ("lines of a stanza in another order", |pdf| {
        children(pdf, "Div")?.reverse();
        Some(())
    }),
    ("a line that the structure does not have", |pdf| {
        children(pdf, "Div")?.pop().map(|_| ())
    }),
    ("a line that the structure has twice", |pdf| {
        let lines = children(pdf, "Div")?;
        lines.push(lines[0].clone());
        Some(())
    }),
    ("no structure", |pdf| {
        pdf.catalog_mut()
            .ok()?
            .remove(b"StructTreeRoot")
            .map(|_| ())
    }),
];

#[test]
fn every_way_of_spoiling_a_layer_is_found_when_it_is_read_back() {
    let files: Vec<Layer> = (books().iter())
        .flat_map(|book| layers(&book.layout, WordsAs::Text).expect("layers"))
        .filter(|layer| ["front.pdf", "back.pdf"].contains(&layer.name.as_str()))
        .collect();
    let mut amiss = Vec::new();
    for (what, spoil) in WAYS {
        let mut spoilt = 0;
        for file in &files {
            let mut pdf = Document::load_mem(&file.bytes).expect("a sound file");
            if spoil(&mut pdf).is_none() {
                continue;
            }
            spoilt += 1;
            amiss.extend(unfound(what, &written(pdf), file));
        }
        if spoilt == 0 {
            amiss.push(format!("{what}: no file has anything of the kind"));
        }
    }
    for file in &files {
        // Written anew by the parser's library as it is, it is sound.
        let pdf = Document::load_mem(&file.bytes).expect("a sound file");
        assert_eq!(read_back(&written(pdf), &file.words, &file.name), Ok(()));
        let cut = &file.bytes[..file.bytes.len() / 2];
        amiss.extend(unfound("half a file", cut, file));
        if let [first, .., last] = &file.words[..]
            && first != last
        {
            let words: Vec<String> = file.words.iter().rev().cloned().collect();
            let broken = read_back(&file.bytes, &words, &file.name);
            assert!(broken.is_err(), "{}: lines in another order", file.name);
        }
    }
    assert!(amiss.is_empty(), "{}", amiss.join("\n"));
}

/// What is to be said if a spoilt file is not found out, or not by F5.
fn unfound(what: &str, bytes: &[u8], file: &Layer) -> Option<String> {
    match read_back(bytes, &file.words, &file.name) {
        Err(broken) if broken.promise == Promise::F5 => None,
        found => Some(format!("{what}: {found:?}, {:?}", file.words.first())),
    }
}

fn written(mut pdf: Document) -> Vec<u8> {
    let mut bytes = Vec::new();
    pdf.save_to(&mut bytes).expect("it can be written");
    bytes
}

/// Changes what is drawn on the first page where it can be.
fn in_words(pdf: &mut Document, spoil: impl Fn(&mut Vec<Operation>) -> Option<()>) -> Option<()> {
    let pages: Vec<ObjectId> = pdf.page_iter().collect();
    pages.into_iter().find_map(|page| {
        let drawn = pdf.get_page_content(page);
        let mut content = Content::decode(&drawn).ok()?;
        shown(&content.operations, 0)?;
        spoil(&mut content.operations)?;
        let drawn = content.encode().ok()?;
        pdf.change_page_content(page, drawn).ok()
    })
}

/// Where words are shown for the so-manieth time.
fn shown(words: &[Operation], number: usize) -> Option<usize> {
    let is = |at: &usize| matches!(words[*at].operator.as_str(), "Tj" | "TJ");
    (0..words.len()).filter(is).nth(number)
}

/// The strings of what is shown.
fn strings(operands: &mut [Object]) -> impl Iterator<Item = &mut Vec<u8>> {
    let parts = operands.iter_mut().flat_map(|operand| match operand {
        Object::Array(items) => items.iter_mut().collect::<Vec<_>>(),
        other => vec![other],
    });
    parts.filter_map(|part| match part {
        Object::String(code, _) => Some(code),
        _ => None,
    })
}

/// The properties of the first words that are read otherwise than they are shown.
fn actual_text(words: &mut [Operation]) -> Option<&mut Dictionary> {
    let mut marks = words
        .iter_mut()
        .filter_map(|mark| mark.operands.get_mut(1)?.as_dict_mut().ok());
    marks.find(|mark| mark.has(b"ActualText"))
}

/// The pages that have words.
fn pages_with_words(pdf: &Document) -> Vec<ObjectId> {
    let has_words = |page: &ObjectId| {
        let content = Content::decode(&pdf.get_page_content(*page));
        content.is_ok_and(|content| shown(&content.operations, 0).is_some())
    };
    pdf.page_iter().filter(has_words).collect()
}

/// The first dictionary of which a key has this name.
fn of_type(pdf: &Document, key: &[u8], name: &str) -> Option<ObjectId> {
    let is = |object: &Object| {
        let dict = object.as_dict().ok();
        let value = dict.and_then(|dict| dict.get(key).ok()?.as_name().ok());
        value == Some(name.as_bytes())
    };
    let mut found = pdf.objects.iter().filter(|(_, object)| is(object));
    found.next().map(|(id, _)| *id)
}

fn font<'a>(pdf: &'a mut Document, kind: &str) -> Option<&'a mut Dictionary> {
    let id = of_type(pdf, b"Subtype", kind)?;
    pdf.get_dictionary_mut(id).ok()
}

/// What a key of the first font of a kind refers to.
fn reference(pdf: &mut Document, kind: &str, key: &[u8]) -> Option<ObjectId> {
    font(pdf, kind)?.get(key).ok()?.as_reference().ok()
}

/// The children of the first structure element of a kind that has several.
fn children<'a>(pdf: &'a mut Document, kind: &str) -> Option<&'a mut Vec<Object>> {
    let mut elements = pdf
        .objects
        .values_mut()
        .filter_map(|object| object.as_dict_mut().ok());
    elements.find_map(|element| {
        let is = element.get(b"S").ok()?.as_name().ok()? == kind.as_bytes();
        let children = element.get_mut(b"K").ok()?.as_array_mut().ok()?;
        (is && children.len() > 1).then_some(children)
    })
}

/// A map of characters in which the first two that stand each for a code have changed places.
fn swapped(map: &str) -> Option<String> {
    let mut lines: Vec<String> = map.lines().map(str::to_string).collect();
    let pairs: Vec<(usize, String, String)> = (lines.iter().enumerate())
        .filter_map(|(at, line)| {
            let [code, character] = line.split_whitespace().collect::<Vec<_>>()[..] else {
                return None;
            };
            let is = |hex: &str| hex.starts_with('<') && hex.ends_with('>');
            // The border lines of the code space look the same.
            let inner = is(code) && is(character) && code != "<0000>";
            inner.then(|| (at, code.to_string(), character.to_string()))
        })
        .collect();
    let (one, other) = (pairs.first()?, pairs.get(1)?);
    lines[one.0] = format!("{} {}", one.1, other.2);
    lines[other.0] = format!("{} {}", other.1, one.2);
    Some(lines.join("\n"))
}
