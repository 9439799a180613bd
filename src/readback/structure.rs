//! The structure tree: the order and the roles in which the words are read.

use std::collections::HashMap;

use lopdf::{Dictionary, Document, Object, ObjectId};
use rustc_hash::{FxHashMap, FxHashSet};

use super::access::{dict_entry, entry, name_entry, resolve, text_entry};
use super::content::{Mark, Sequence};
use super::{LineRead, ReadError};

/// How deep the structure may nest.
const MAX_DEPTH: usize = 64;

/// A reference from the tree to a page's content.
struct Leaf {
    page: usize,
    mcid: i64,
    text: String,
    structure: Vec<String>,
    language: Option<String>,
}

struct Walk<'a> {
    doc: &'a Document,
    /// Page index, from nought, by the page's object.
    numbers: &'a HashMap<ObjectId, usize>,
    /// Texts not yet referred to.
    texts: FxHashMap<(usize, Mark), &'a str>,
    /// Elements met, by their place in memory.
    met: FxHashSet<*const Dictionary>,
    roles: Vec<String>,
    languages: Vec<String>,
    leaves: Vec<Leaf>,
}

/// The lines of every page in structure order. The order must follow that of the pages: whoever has the whole file read
/// aloud hears it so.
pub(super) fn lines(
    doc: &Document,
    catalog: &Dictionary,
    numbers: &HashMap<ObjectId, usize>,
    contents: &[Vec<Sequence>],
) -> Result<Vec<Vec<LineRead>>, ReadError> {
    let root = dict_entry(doc, catalog, b"StructTreeRoot").ok_or(ReadError::NotTagged)?;
    let mut walk = Walk {
        doc,
        numbers,
        texts: texts(contents)?,
        met: FxHashSet::default(),
        roles: Vec::new(),
        languages: Vec::new(),
        leaves: Vec::new(),
    };
    if let Ok(kids) = root.get(b"K") {
        walk.kid(kids, None, 0)?;
    }
    walk.nothing_forgotten()?;
    let back = walk
        .leaves
        .windows(2)
        .find(|pair| pair[0].page > pair[1].page);
    if let Some([from, to]) = back {
        let what = format!(
            "it goes back from page {} to page {}",
            from.page + 1,
            to.page + 1
        );
        return wrong(what);
    }
    let mut pages: Vec<Vec<LineRead>> = contents.iter().map(|_| Vec::new()).collect();
    for leaf in walk.leaves {
        if let Some(lines) = pages.get_mut(leaf.page) {
            lines.push(LineRead {
                text: leaf.text,
                structure: leaf.structure,
                mcid: leaf.mcid,
                language: leaf.language,
            });
        }
    }
    Ok(pages)
}

/// Every sequence's text by page index and mark; no mark may be used twice.
fn texts(contents: &[Vec<Sequence>]) -> Result<FxHashMap<(usize, Mark), &str>, ReadError> {
    let mut texts = FxHashMap::default();
    for (page, sequences) in contents.iter().enumerate() {
        for Sequence { mark, text } in sequences {
            if texts.insert((page, *mark), text.as_str()).is_some() {
                let what = format!("uses the marked-content number {} twice", mark.mcid);
                return Err(ReadError::page(page + 1, what));
            }
        }
    }
    Ok(texts)
}

fn wrong<T>(what: impl Into<String>) -> Result<T, ReadError> {
    Err(ReadError::Structure(what.into()))
}

impl<'a> Walk<'a> {
    /// Goes through what `K` holds. `page` is the page of the element it belongs to.
    fn kid(
        &mut self,
        kid: &'a Object,
        page: Option<&'a Object>,
        depth: usize,
    ) -> Result<(), ReadError> {
        if depth > MAX_DEPTH {
            return Err(ReadError::TooLarge("levels of structure"));
        }
        match resolve(self.doc, kid) {
            Some(Object::Integer(mcid)) => self.content(*mcid, page, None),
            Some(Object::Array(kids)) => {
                for kid in kids {
                    self.kid(kid, page, depth + 1)?;
                }
                Ok(())
            }
            Some(Object::Dictionary(dict)) => {
                match name_entry(self.doc, dict, b"Type").as_deref() {
                    // An annotation or the like: it has no words of its own.
                    Some("OBJR") => Ok(()),
                    Some("MCR") => {
                        let Some(Object::Integer(mcid)) = entry(self.doc, dict, b"MCID") else {
                            return wrong("a content reference has no number");
                        };
                        let form = match dict.get(b"Stm") {
                            Ok(form) => match form.as_reference() {
                                Ok(id) => Some(id),
                                Err(_) => return wrong("a content reference names no form"),
                            },
                            Err(_) => None,
                        };
                        self.content(*mcid, dict.get(b"Pg").ok().or(page), form)
                    }
                    _ => self.element(dict, depth),
                }
            }
            _ => wrong("an element has a child that is not there"),
        }
    }

    fn element(&mut self, dict: &'a Dictionary, depth: usize) -> Result<(), ReadError> {
        if !self.met.insert(dict) {
            return wrong("an element is reached twice");
        }
        let Some(role) = name_entry(self.doc, dict, b"S") else {
            return wrong("an element has no role");
        };
        let language = text_entry(self.doc, dict, b"Lang");
        let languages = self.languages.len();
        self.languages.extend(language);
        self.roles.push(role);
        let first = self.leaves.len();
        if let Ok(kids) = dict.get(b"K") {
            self.kid(kids, dict.get(b"Pg").ok(), depth + 1)?;
        }
        if dict.has(b"ActualText") {
            self.replace(dict, first)?;
        }
        self.roles.pop();
        self.languages.truncate(languages);
        Ok(())
    }

    /// Puts an element's replacement text in the place of everything below it.
    fn replace(&mut self, dict: &Dictionary, first: usize) -> Result<(), ReadError> {
        let path = self.roles.join("/");
        let Some(text) = text_entry(self.doc, dict, b"ActualText") else {
            return wrong(format!("the replacement text of {path} cannot be read"));
        };
        self.leaves.truncate(first + 1);
        let (structure, language) = (self.roles.clone(), self.languages.last().cloned());
        let Some(leaf) = self.leaves.get_mut(first) else {
            return wrong(format!("the replacement text of {path} is on no page"));
        };
        *leaf = Leaf {
            text,
            structure,
            language,
            ..*leaf
        };
        Ok(())
    }

    fn content(
        &mut self,
        mcid: i64,
        page: Option<&Object>,
        form: Option<ObjectId>,
    ) -> Result<(), ReadError> {
        let path = || self.roles.join("/");
        let page = page
            .and_then(|page| page.as_reference().ok())
            .and_then(|id| self.numbers.get(&id).copied());
        let Some(page) = page else {
            return wrong(format!("content {mcid} of {} is on no page", path()));
        };
        let Some(text) = self.texts.remove(&(page, Mark { form, mcid })) else {
            return wrong(format!(
                "content {mcid} of {} is not on page {}, or is named twice",
                path(),
                page + 1
            ));
        };
        self.leaves.push(Leaf {
            page,
            mcid,
            text: text.to_string(),
            structure: self.roles.clone(),
            language: self.languages.last().cloned(),
        });
        Ok(())
    }

    /// Text that is marked but that the tree never reaches would not be read by anyone.
    fn nothing_forgotten(&self) -> Result<(), ReadError> {
        let forgotten = self
            .texts
            .iter()
            .filter(|(_, text)| !text.is_empty())
            .min_by_key(|((page, mark), _)| (*page, mark.mcid));
        match forgotten {
            Some(((page, mark), text)) => wrong(format!(
                "content {} of page {} is missing: {text:?}",
                mark.mcid,
                page + 1
            )),
            None => Ok(()),
        }
    }
}
