//! Streams as they were packed, kept for the next time: packing takes longer than all else about a file whose pages are
//! nearly all as they were.
//!
//! A stream is known again by all of its bytes. What is kept is only what the last run used.

use std::hash::{Hash, Hasher};
use std::sync::{Mutex, MutexGuard, PoisonError};

use rustc_hash::{FxHashMap, FxHasher};

use super::deflate;

/// Streams, packed.
#[derive(Default)]
pub(crate) struct Packed {
    known: Mutex<FxHashMap<u64, Vec<Stream>>>,
}

struct Stream {
    plain: Vec<u8>,
    packed: Vec<u8>,
    /// Whether this run has used it.
    used: bool,
}

impl Packed {
    /// Begins a run: what the last one did not use is forgotten.
    pub fn begin(&self) {
        self.known().retain(|_, streams| {
            streams.retain_mut(|stream| std::mem::take(&mut stream.used));
            !streams.is_empty()
        });
    }

    /// A stream, packed; what was packed before is remembered.
    pub fn pack(&self, plain: &[u8]) -> Vec<u8> {
        let mut hasher = FxHasher::default();
        plain.hash(&mut hasher);
        let hash = hasher.finish();
        let is_it = |stream: &&mut Stream| stream.plain == plain;
        if let Some(streams) = self.known().get_mut(&hash)
            && let Some(stream) = streams.iter_mut().find(is_it)
        {
            stream.used = true;
            return stream.packed.clone();
        }
        let packed = deflate(plain);
        let stream = Stream {
            plain: plain.to_vec(),
            packed: packed.clone(),
            used: true,
        };
        self.known().entry(hash).or_default().push(stream);
        packed
    }

    /// What is known; a thread that broke off leaves it whole, for streams are added and taken away one by one.
    fn known(&self) -> MutexGuard<'_, FxHashMap<u64, Vec<Stream>>> {
        self.known.lock().unwrap_or_else(PoisonError::into_inner)
    }
}
