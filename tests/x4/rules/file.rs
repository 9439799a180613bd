//! A file that is looked at, and the ways into it.

use lopdf::content::{Content, Operation};
use lopdf::{Dictionary, Document, Object, Stream};

/// A parsed file, and its bytes.
pub struct File<'b> {
    pub bytes: &'b [u8],
    pub document: Document,
    /// The XMP metadata of the whole file; nothing where there is none.
    pub xmp: String,
}

impl File<'_> {
    pub fn read(bytes: &[u8]) -> File<'_> {
        let document = Document::load_mem(bytes).expect("a PDF");
        let mut file = File {
            bytes,
            document,
            xmp: String::new(),
        };
        let xmp = file.get(file.catalog(), "Metadata");
        let xmp = xmp.and_then(|xmp| xmp.as_stream().ok());
        let xmp = xmp.map(|stream| String::from_utf8_lossy(&plain(stream)).into_owned());
        file.xmp = xmp.unwrap_or_default();
        file
    }

    pub fn catalog(&self) -> &Dictionary {
        self.document.catalog().expect("a catalog")
    }

    /// The information dictionary, empty where there is none.
    pub fn info(&self) -> Dictionary {
        let info = self.dict(&self.document.trailer, "Info");
        info.cloned().unwrap_or_default()
    }

    pub fn pages(&self) -> Vec<&Dictionary> {
        let pages = self.document.page_iter();
        pages
            .map(|page| self.document.get_dictionary(page).expect("a page"))
            .collect()
    }

    /// The operators of a page.
    pub fn operations(&self, number: usize) -> Vec<Operation> {
        let page = self.document.page_iter().nth(number).expect("a page");
        let content = self.document.get_page_content(page);
        Content::decode(&content).expect("operators").operations
    }

    /// The object that a reference leads to, or the object itself; nothing for null.
    pub fn resolve<'a>(&'a self, object: &'a Object) -> Option<&'a Object> {
        let (_, object) = self.document.dereference(object).ok()?;
        (!object.is_null()).then_some(object)
    }

    pub fn get<'a>(&'a self, dict: &'a Dictionary, key: &str) -> Option<&'a Object> {
        self.resolve(dict.get(key.as_bytes()).ok()?)
    }

    /// A dictionary, or that of a stream.
    pub fn dict<'a>(&'a self, dict: &'a Dictionary, key: &str) -> Option<&'a Dictionary> {
        dict_of(self.get(dict, key)?)
    }

    /// The items of an array, or the one object that stands for one.
    pub fn items<'a>(&'a self, dict: &'a Dictionary, key: &str) -> Vec<&'a Object> {
        match self.get(dict, key) {
            Some(Object::Array(items)) => {
                items.iter().filter_map(|item| self.resolve(item)).collect()
            }
            Some(one) => vec![one],
            None => Vec::new(),
        }
    }

    pub fn name(&self, dict: &Dictionary, key: &str) -> Option<String> {
        let name = self.get(dict, key)?.as_name().ok()?;
        Some(String::from_utf8_lossy(name).into_owned())
    }

    pub fn number(&self, dict: &Dictionary, key: &str) -> Option<f64> {
        self.get(dict, key)?.as_float().ok().map(f64::from)
    }

    pub fn numbers(&self, dict: &Dictionary, key: &str) -> Vec<f64> {
        let items = self.items(dict, key).into_iter();
        let numbers = items.filter_map(|item| item.as_float().ok());
        numbers.map(f64::from).collect()
    }

    /// A text string: UTF-16 with its mark, or else the bytes as they are.
    pub fn text(&self, dict: &Dictionary, key: &str) -> Option<String> {
        let bytes = self.get(dict, key)?.as_str().ok()?;
        let Some(utf16) = bytes.strip_prefix(&[0xFE, 0xFF]) else {
            return Some(String::from_utf8_lossy(bytes).into_owned());
        };
        let units = utf16
            .chunks(2)
            .map(|pair| u16::from(pair[0]) << 8 | u16::from(pair[1]));
        Some(String::from_utf16_lossy(&units.collect::<Vec<u16>>()))
    }

    /// The value of a simple property in the XMP, whatever prefix stands for its namespace.
    pub fn xmp_value(&self, namespace: &str, property: &str) -> Option<&str> {
        let declared = self.xmp.find(&format!("=\"{namespace}\""))?;
        let prefix = self.xmp[..declared].rsplit("xmlns:").next()?;
        let begins = format!("<{prefix}:{property}>");
        let after = self.xmp.split(&begins).nth(1)?;
        after.split(&format!("</{prefix}:{property}>")).next()
    }

    /// Every dictionary of the file, those within others and those of streams too.
    pub fn dicts(&self) -> Vec<&Dictionary> {
        let mut found = vec![&self.document.trailer];
        let mut open: Vec<&Object> = self.document.objects.values().collect();
        while let Some(object) = open.pop() {
            if let Object::Array(items) = object {
                open.extend(items);
            }
            if let Some(dict) = dict_of(object) {
                found.push(dict);
                open.extend(dict.iter().map(|(_, value)| value));
            }
        }
        found
    }
}

/// A dictionary, or that of a stream.
pub fn dict_of(object: &Object) -> Option<&Dictionary> {
    match object {
        Object::Dictionary(dict) => Some(dict),
        Object::Stream(stream) => Some(&stream.dict),
        _ => None,
    }
}

/// What a stream holds, unpacked.
pub fn plain(stream: &Stream) -> Vec<u8> {
    let unpacked = stream.decompressed_content();
    unpacked.unwrap_or_else(|_| stream.content.clone())
}
