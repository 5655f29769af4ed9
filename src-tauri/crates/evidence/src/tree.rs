//! The tree of hashes of RFC 6962 section 2.1 (the same in RFC 9162), over leaf hashes.
//!
//! Sizes and places count leaves. Every function takes leaf hashes, never records: see [`leaf`].

use crate::Digest;

/// The hash of one record: SHA-256 of a zero byte and the bytes (RFC 6962 section 2.1).
pub fn leaf(bytes: &[u8]) -> Digest {
    Digest::of_parts(&[&[0], bytes])
}

/// The hash of two subtrees: SHA-256 of a one byte, left and right (RFC 6962 section 2.1).
pub fn node(left: &Digest, right: &Digest) -> Digest {
    Digest::of_parts(&[&[1], &left.0, &right.0])
}

/// The root over `leaves`; SHA-256 of nothing if there are none.
pub fn root(leaves: &[Digest]) -> Digest {
    match leaves {
        [] => Digest::of(b""),
        [only] => *only,
        many => {
            let (left, right) = many.split_at(split(many.len()));
            node(&root(left), &root(right))
        }
    }
}

/// The audit path of leaf `index` (RFC 6962 section 2.1.1), from the leaf upwards; none if there is no such leaf.
pub fn inclusion_proof(index: u64, leaves: &[Digest]) -> Option<Vec<Digest>> {
    let index = usize::try_from(index).ok().filter(|index| *index < leaves.len())?;
    let mut path = Vec::new();
    climb(index, leaves, &mut path);
    Some(path)
}

/// Whether `proof` shows that `leaf` is leaf `index` of the tree of `size` leaves under `root`
/// (RFC 9162 section 2.1.3.2).
pub fn verify_inclusion(leaf: &Digest, index: u64, size: u64, proof: &[Digest], root: &Digest) -> bool {
    if index >= size {
        return false;
    }
    let (mut place, mut last, mut hash) = (index, size - 1, *leaf);
    for step in proof {
        if last == 0 {
            return false;
        }
        if place & 1 == 1 || place == last {
            hash = node(step, &hash);
            while place & 1 == 0 && place != 0 {
                (place, last) = (place >> 1, last >> 1);
            }
        } else {
            hash = node(&hash, step);
        }
        (place, last) = (place >> 1, last >> 1);
    }
    last == 0 && hash == *root
}

/// The proof that the first `old` leaves are unchanged in `leaves` (RFC 6962 section 2.1.2); empty if nothing
/// was added or `old` is 0; none if `old` is more than there are.
pub fn consistency_proof(old: u64, leaves: &[Digest]) -> Option<Vec<Digest>> {
    let old = usize::try_from(old).ok().filter(|old| *old <= leaves.len())?;
    let mut path = Vec::new();
    if old > 0 {
        subproof(old, leaves, true, &mut path);
    }
    Some(path)
}

/// Whether `proof` shows that the tree of `size` leaves under `root` only adds to the tree of `old_size` leaves
/// under `old_root` (RFC 9162 section 2.1.4.2).
pub fn verify_consistency(
    old_size: u64,
    old_root: &Digest,
    size: u64,
    root: &Digest,
    proof: &[Digest],
) -> bool {
    if old_size > size {
        return false;
    }
    if old_size == size || old_size == 0 {
        let fits = if old_size == size { old_root == root } else { *old_root == Digest::of(b"") };
        return fits && proof.is_empty();
    }
    // A whole old tree isn't repeated in the proof; it starts from the old root itself.
    let (seed, steps) = match proof.split_first() {
        None => return false,
        Some(_) if old_size.is_power_of_two() => (*old_root, proof),
        Some((first, rest)) => (*first, rest),
    };
    let (mut place, mut last) = (old_size - 1, size - 1);
    while place & 1 == 1 {
        (place, last) = (place >> 1, last >> 1);
    }
    let (mut old_hash, mut hash) = (seed, seed);
    for step in steps {
        if last == 0 {
            return false;
        }
        if place & 1 == 1 || place == last {
            old_hash = node(step, &old_hash);
            hash = node(step, &hash);
            while place & 1 == 0 && place != 0 {
                (place, last) = (place >> 1, last >> 1);
            }
        } else {
            hash = node(&hash, step);
        }
        (place, last) = (place >> 1, last >> 1);
    }
    last == 0 && old_hash == *old_root && hash == *root
}

/// The largest power of two below `size`, which must be 2 or more.
fn split(size: usize) -> usize {
    size.next_power_of_two() >> 1
}

fn climb(index: usize, leaves: &[Digest], path: &mut Vec<Digest>) {
    if leaves.len() < 2 {
        return;
    }
    let middle = split(leaves.len());
    let (left, right) = leaves.split_at(middle);
    if index < middle {
        climb(index, left, path);
        path.push(root(right));
    } else {
        climb(index - middle, right, path);
        path.push(root(left));
    }
}

fn subproof(old: usize, leaves: &[Digest], whole: bool, path: &mut Vec<Digest>) {
    if old == leaves.len() {
        if !whole {
            path.push(root(leaves));
        }
        return;
    }
    let middle = split(leaves.len());
    let (left, right) = leaves.split_at(middle);
    if old <= middle {
        subproof(old, left, whole, path);
        path.push(root(right));
    } else {
        subproof(old - middle, right, false, path);
        path.push(root(left));
    }
}
