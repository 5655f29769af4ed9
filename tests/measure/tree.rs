//! A log of 100,000 records: its tree built, and each record proven to be in it.

use crate::{Failure, median};
use evidence::{Levels, tree};

const RECORDS: u64 = 100_000;
/// About what a record of a reading has.
const RECORD_BYTES: usize = 600;
const RUNS: usize = 5;

pub fn figures() -> Result<Vec<(&'static str, f64)>, Failure> {
    let records: Vec<Vec<u8>> = (0..RECORDS).map(record).collect();
    let build = || {
        records.iter().fold(Levels::default(), |mut levels, record| {
            levels.push(tree::leaf(record));
            levels
        })
    };
    let levels = build();
    let root = levels.root_at(RECORDS).ok_or("no root")?;
    let built = median(RUNS, || {
        if build().root_at(RECORDS) == Some(root) { Ok(()) } else { Err("another root".into()) }
    })?;
    let proven = median(RUNS, || {
        for (index, leaf) in (0..).zip(levels.leaves()) {
            let proof = levels.inclusion_proof(index, RECORDS).ok_or("no proof")?;
            if !tree::verify_inclusion(leaf, index, RECORDS, &proof, &root) {
                return Err("a proof that does not hold".into());
            }
        }
        Ok(())
    })?;
    // From records to the root is the tree; the proofs, one for each record, made and checked, stand beside it.
    Ok(vec![("tree_100k_s", built), ("proofs_100k_s", proven)])
}

fn record(number: u64) -> Vec<u8> {
    number.to_be_bytes().into_iter().cycle().take(RECORD_BYTES).collect()
}
