//! What the rules that remember roles ask, worked out before any words are looked at.

use rustc_hash::FxHashMap;

use super::candidates::{Carries, Next, carries};
use super::part_search::PartSearch;
use crate::division::{Cost, PanelView, Placed};
use crate::names::HalfLines;
use crate::rules::{Memory, Weighed};

/// From one memory of roles to one of the next panel's: its number and the cost; nothing where a hard rule is
/// broken.
pub(super) type Move = Option<(u32, Cost)>;

/// Every memory of roles that a panel can be met with, numbered panel by panel from 0; and what each thing that a
/// panel may carry makes of each of them.
#[derive(Default)]
pub(super) struct RoleTable {
    /// By panel, and for the end: how many memories there are.
    widths: Vec<usize>,
    /// By panel and row: the moves from each memory.
    moves: Vec<Vec<Vec<Move>>>,
    /// By panel: which row is whose.
    rows: Vec<FxHashMap<Carries, usize>>,
}

impl RoleTable {
    pub fn new(track: &PartSearch<'_>, rules: &[Weighed]) -> RoleTable {
        let mut here: Vec<Vec<Memory>> = vec![vec![0; rules.len()]];
        let mut table = RoleTable::default();
        for panel in 0..track.problem.panels.len() {
            let mut numbers: FxHashMap<Vec<Memory>, u32> = FxHashMap::default();
            let mut next: Vec<Vec<Memory>> = Vec::new();
            let mut moves: Vec<Vec<Move>> = Vec::new();
            let mut rows = FxHashMap::default();
            for carried in carries(track.problem, &track.queue, panel, Next::Ever) {
                let row = here.iter().map(|known| {
                    let (memory, cost) = read(track, rules, panel, carried, known)?;
                    let number = *numbers.entry(memory).or_insert_with_key(|memory| {
                        next.push(memory.clone());
                        (next.len() - 1) as u32
                    });
                    Some((number, cost))
                });
                let row: Vec<Move> = row.collect();
                // Many pictures ask the same.
                let at = moves.iter().position(|known| *known == row);
                let at = at.unwrap_or_else(|| {
                    moves.push(row);
                    moves.len() - 1
                });
                rows.insert(carried, at);
            }
            table.widths.push(here.len());
            table.moves.push(moves);
            table.rows.push(rows);
            here = next;
        }
        table.widths.push(here.len());
        table
    }

    /// How many memories there are before a panel.
    pub fn width(&self, panel: usize) -> usize {
        self.widths[panel]
    }

    /// The row of what a panel carries.
    pub fn row(&self, panel: usize, carried: Carries) -> usize {
        self.rows.get(panel).map_or(0, |rows| rows[&carried])
    }

    /// The moves of a row, from every memory.
    pub fn moves(&self, panel: usize, row: usize) -> &[Move] {
        &self.moves[panel][row]
    }
}

fn read(
    track: &PartSearch<'_>,
    rules: &[Weighed],
    panel: usize,
    (role, picture, begins_picture): Carries,
    known: &[Memory],
) -> Option<(Vec<Memory>, Cost)> {
    let reading = PanelView {
        problem: track.problem,
        panel,
        role,
        from: 0,
        to: 0,
        picture,
        begins_picture,
        queue: &track.queue,
        placed: Placed::NONE,
        column: None,
        used: HalfLines::ZERO,
        foot: 0,
        capacity: HalfLines::ZERO,
    };
    let mut cost = 0;
    let mut memory = Vec::with_capacity(rules.len());
    for (weighed, &known) in rules.iter().zip(known) {
        let (verdict, remembered) = weighed.rule.read_on(known, &reading);
        cost += weighed.price(verdict)?;
        memory.push(remembered);
    }
    Some((memory, cost))
}
