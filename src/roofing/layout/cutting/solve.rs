//! The best of several sets of courses.

use std::collections::BTreeSet;

use super::Meter;
use super::assign::assign;
use super::bound::{by_length, sheets_for};
use super::guillotine::groups;
use super::joints::Ways;
use super::kinds::{Blank, Kind, kinds, span};
use super::patterns::Stacks;
use super::search::{self, Best, Search};
use super::{Budget, CannotLay, Columns, Course, CutPlan, Cutting, Stock};

/// One set of courses, and what is known of it.
struct Candidate<'a> {
    courses: &'a [Course],
    kinds: Vec<Kind>,
    at_least: i64,
    ready: Option<(Stacks, Search)>,
}

/// The best found, and for which candidate.
struct Found {
    best: Best,
    candidate: Option<usize>,
}

/// Lays the best of these sets of courses; the earlier of equals. Looks no further than `fewer_than` so many sheets.
pub(super) fn best(
    sets: &Ways,
    columns: &Columns,
    stock: &Stock,
    budget: Budget,
    fewer_than: Option<i64>,
) -> Result<Cutting, CannotLay> {
    let blank = Blank::new(columns, stock);
    let mut candidates = candidates(&sets.ways, columns, stock, &blank);
    let mut meter = Meter::new(budget.steps);
    let mut sheets =
        candidates.iter().map(|candidate| candidate.at_least).min().ok_or(CannotLay::NoJointsFit)?;
    loop {
        if fewer_than.is_some_and(|most| sheets >= most) {
            return Err(CannotLay::NothingSaved);
        }
        let mut found = Found { best: Best { cuts: i64::MAX, cutting: None }, candidate: None };
        let finished = try_all(&mut candidates, sheets, &blank, &mut found, &mut meter).is_some();
        let best = found.candidate.and_then(|at| candidates.get(at)).zip(found.best.cutting);
        if best.is_none() && finished {
            sheets += 1;
            continue;
        }
        let at_least = sets.incomplete.map_or(sheets, |total| by_length(total, columns, stock));
        let proof = (at_least, finished && sets.incomplete.is_none());
        let likeliest = candidates.iter().min_by_key(|candidate| candidate.at_least);
        let likeliest = likeliest.ok_or(CannotLay::NoJointsFit)?;
        return Ok(match best {
            Some((candidate, cutting)) => lay(candidate, &cutting, columns, stock, proof),
            None => lay(likeliest, &greedy(likeliest), columns, stock, proof),
        });
    }
}

/// Sets whose pieces are the same are one candidate: the earliest.
fn candidates<'a>(
    sets: &'a [Vec<Course>],
    columns: &Columns,
    stock: &Stock,
    blank: &Blank,
) -> Vec<Candidate<'a>> {
    let mut seen = BTreeSet::new();
    let mut candidates = Vec::new();
    for courses in sets {
        let mut spans: Vec<(i64, i64)> = courses.iter().map(|course| span(course, stock)).collect();
        spans.sort_unstable();
        let kinds = kinds(&spans, columns);
        if seen.insert(spans) {
            let at_least = sheets_for(&kinds, blank);
            candidates.push(Candidate { courses, kinds, at_least, ready: None });
        }
    }
    candidates
}

/// Looks for the fewest cuts with so many sheets; `None` where the meter ran out first.
fn try_all(
    candidates: &mut [Candidate],
    sheets: i64,
    blank: &Blank,
    found: &mut Found,
    meter: &mut Meter,
) -> Option<()> {
    for (index, candidate) in candidates.iter_mut().enumerate().filter(|(_, c)| c.at_least <= sheets) {
        if candidate.ready.is_none() {
            let stacks = Stacks::find(&candidate.kinds, blank, meter)?;
            let search = Search::new(&candidate.kinds, &stacks, meter)?;
            candidate.at_least = candidate.at_least.max(search.sheets_at_least);
            candidate.ready = Some((stacks, search));
        }
        if candidate.at_least > sheets {
            continue;
        }
        if let Some((_, search)) = &mut candidate.ready {
            let cuts = found.best.cuts;
            let finished = search.improve(sheets, &mut found.best, meter);
            if found.best.cuts < cuts {
                found.candidate = Some(index);
            }
            finished?;
        }
    }
    Some(())
}

/// A cutting that is always possible: the pattern that uses most of what is wanted, again and again.
fn greedy(candidate: &Candidate) -> search::Cutting {
    let mut wanted: Vec<i64> = candidate.kinds.iter().map(|kind| kind.demand).collect();
    let patterns = candidate.ready.as_ref().map(|(stacks, _)| stacks.patterns.as_slice()).unwrap_or_default();
    let alone = (0..wanted.len()).map(|at| (0..wanted.len()).map(|i| i64::from(i == at)).collect::<Vec<_>>());
    let mut on_offer: Vec<Vec<i64>> =
        patterns.iter().map(|pattern| pattern.counts.clone()).chain(alone).collect();
    on_offer.dedup();
    let mut cutting = Vec::new();
    while wanted.iter().any(|count| *count > 0) {
        let use_of = |counts: &[i64]| -> i64 {
            let kinds = counts.iter().zip(&wanted).zip(&candidate.kinds);
            kinds.map(|((gives, want), kind)| gives.min(want) * kind.low).sum()
        };
        let Some(counts) = on_offer.iter().max_by_key(|counts| use_of(counts)) else { break };
        cutting.push((counts.clone(), 1));
        for (want, gives) in wanted.iter_mut().zip(counts) {
            *want = (*want - gives).max(0);
        }
    }
    cutting
}

fn lay(
    candidate: &Candidate,
    cutting: &search::Cutting,
    columns: &Columns,
    stock: &Stock,
    (sheets_at_least, cuts_proven): (i64, bool),
) -> Cutting {
    let blank = Blank::new(columns, stock);
    let each = columns.each();
    let singles = || groups(&candidate.kinds, &blank, 1, &mut Meter::new(u64::MAX)).unwrap_or_default();
    let groups = candidate.ready.as_ref().map_or_else(singles, |(stacks, _)| stacks.groups.clone());
    let sheets = assign(cutting, &candidate.kinds, &groups, (candidate.courses, &each), (&blank, stock));
    let cuts = sheets.iter().map(|sheet| sheet.cuts).sum();
    let sheets_at_least = usize::try_from(sheets_at_least).unwrap_or(0);
    let plan = CutPlan { sheets, cuts, sheets_at_least, cuts_proven };
    Cutting { courses: candidate.courses.to_vec(), columns: each, plan }
}
