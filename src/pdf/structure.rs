//! The structure tree: what a page's marked content is, in reading order.
//!
//! A document holds headings, and a division for each stanza with a paragraph for each of its lines; a
//! turned-over piece belongs to its line's paragraph. An epigraph is a block quotation, and what stands with a
//! picture a caption. Heading levels are counted anew in each file, so that the highest level present is H1; none is more
//! than one lower than the heading before it (PDF/UA-1, 7.4.2).

use pdf_writer::types::StructRole;
use pdf_writer::{Pdf, Ref, TextStr};

use super::{Document, Drawing, ObjectNumbers};
use crate::layout::LaidLine;
use crate::text::LineKind;

/// A paragraph or heading: its marked contents, all of one page.
struct TextElement {
    id: Ref,
    role: StructRole,
    page: Ref,
    marks: Vec<i32>,
}

/// A stanza or other block.
struct BlockElement {
    id: Ref,
    role: StructRole,
    language: Option<String>,
    leaves: Vec<TextElement>,
}

/// The tree of one file.
pub(super) struct Structure<'a> {
    document: &'a Document<'a>,
    root: Ref,
    top: Ref,
    groups: Vec<BlockElement>,
    /// For each page with words: its place among the pages, the object that lists them, and the element of each marked
    /// content.
    parents: Vec<(usize, Ref, Vec<Ref>)>,
    /// The first level of headings in the file.
    first_level: usize,
    /// The level of the last heading.
    last_level: usize,
}

impl<'a> Structure<'a> {
    pub(super) fn new(document: &'a Document<'a>, numbers: &mut ObjectNumbers) -> Structure<'a> {
        let drawings = document.pages.iter().flat_map(|page| &page.drawings);
        let lines = drawings.flat_map(|drawing| match drawing {
            Drawing::Words { panel, .. } => panel.lines.as_slice(),
            _ => &[],
        });
        Structure {
            document,
            root: numbers.next(),
            top: numbers.next(),
            groups: Vec::new(),
            parents: Vec::new(),
            first_level: lines
                .filter_map(|line| level(&line.kind))
                .min()
                .unwrap_or(1),
            last_level: 0,
        }
    }

    /// Adds a page's marked contents, in their order on the page.
    pub(super) fn add_page(
        &mut self,
        index: usize,
        page: Ref,
        marked: &[(usize, usize)],
        numbers: &mut ObjectNumbers,
    ) {
        let mut last: Option<(usize, &LaidLine)> = None;
        let mut parents = Vec::with_capacity(marked.len());
        for (number, &(drawing, line)) in marked.iter().enumerate() {
            let Drawing::Words { panel, .. } = &self.document.pages[index].drawings[drawing] else {
                continue;
            };
            let line = &panel.lines[line];
            let same = |known: &LaidLine| known.part == line.part && known.block == line.block;
            let same_panel = last.is_some_and(|(known, _)| known == drawing);
            let same_block = same_panel && last.is_some_and(|(_, known)| same(known));
            let same_row = same_block && last.is_some_and(|(_, known)| known.row == line.row);
            if !same_block {
                self.begin_group(line, numbers);
            }
            if !same_row {
                self.begin_leaf(line, page, numbers);
            }
            if let Some(leaf) = self
                .groups
                .last_mut()
                .and_then(|group| group.leaves.last_mut())
            {
                leaf.marks.push(number as i32);
                parents.push(leaf.id);
            }
            last = Some((drawing, line));
        }
        if !parents.is_empty() {
            self.parents.push((index, numbers.next(), parents));
        }
    }

    fn begin_group(&mut self, line: &LaidLine, numbers: &mut ObjectNumbers) {
        let role = match line.kind.is_epigraph() {
            true => StructRole::BlockQuote,
            false => StructRole::Div,
        };
        let foreign = line.language != self.document.language;
        self.groups.push(BlockElement {
            id: numbers.next(),
            role,
            language: foreign.then(|| line.language.clone()),
            leaves: Vec::new(),
        });
    }

    fn begin_leaf(&mut self, line: &LaidLine, page: Ref, numbers: &mut ObjectNumbers) {
        let level = level(&line.kind).map(|level| level + 1 - self.first_level);
        let level = level.map(|level| level.min(self.last_level + 1));
        self.last_level = level.unwrap_or(self.last_level);
        let role = match level {
            Some(1) => StructRole::H1,
            Some(2) => StructRole::H2,
            Some(_) => StructRole::H3,
            None if line.kind == LineKind::Caption => StructRole::Caption,
            None => StructRole::P,
        };
        if let Some(group) = self.groups.last_mut() {
            group.leaves.push(TextElement {
                id: numbers.next(),
                role,
                page,
                marks: Vec::new(),
            });
        }
    }

    /// Writes the tree and gives its root.
    pub(super) fn write(&self, pdf: &mut Pdf, language: &str) -> Ref {
        let mut root = pdf
            .indirect(self.root)
            .start::<pdf_writer::writers::StructTreeRoot<'_>>();
        root.child(self.top);
        let mut tree = root.parent_tree();
        let mut entries = tree.nums();
        for (page, list, _) in &self.parents {
            entries.insert(*page as i32, *list);
        }
        drop(entries);
        drop(tree);
        root.parent_tree_next_key(self.document.pages.len() as i32);
        drop(root);
        for (_, list, parents) in &self.parents {
            pdf.indirect(*list).array().items(parents.iter().copied());
        }
        let mut top = pdf.struct_element(self.top);
        top.kind(StructRole::Document)
            .parent(self.root)
            .lang(TextStr(language));
        top.children()
            .items(self.groups.iter().map(|group| group.id));
        drop(top);
        for group in &self.groups {
            self.write_group(pdf, group);
        }
        self.root
    }

    fn write_group(&self, pdf: &mut Pdf, group: &BlockElement) {
        let mut element = pdf.struct_element(group.id);
        element.kind(group.role).parent(self.top);
        if let Some(language) = &group.language {
            element.lang(TextStr(language));
        }
        element
            .children()
            .items(group.leaves.iter().map(|leaf| leaf.id));
        drop(element);
        for leaf in &group.leaves {
            let mut element = pdf.struct_element(leaf.id);
            element.kind(leaf.role).parent(group.id).page(leaf.page);
            let mut children = element.children();
            for &mark in &leaf.marks {
                children.marked_content_id(mark);
            }
        }
    }
}

/// The level of a heading in the manuscript.
fn level(kind: &LineKind) -> Option<usize> {
    match kind {
        LineKind::Title => Some(1),
        LineKind::Heading => Some(2),
        LineKind::Subheading => Some(3),
        _ => None,
    }
}
