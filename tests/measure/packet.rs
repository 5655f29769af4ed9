//! Verifying a packet of 20 photos: our throughput over one `openssl dgst -sha256` on the same bytes, warm cache.

use crate::{Failure, median, program, shop};
use evidence::packet::{self, Options};
use std::fs::File;
use std::ops::ControlFlow;

const PHOTOS: u32 = 20;
const RUNS: usize = 7;

pub fn figures() -> Result<Vec<(&'static str, f64)>, Failure> {
    let (_folder, workshop, job) = shop::open()?;
    for seed in 1..=PHOTOS {
        workshop.photo_keep(&shop::photo(&job), &shop::jpeg(3_000, 2_250, seed)?)?;
    }
    workshop.packet_write(&job, &api::entry::PacketEntry::preset("en", api::entry::Recipient::Customer))?;
    let view = workshop.job_view(&job)?;
    let path = view.packets.first().ok_or("no packet")?.path.clone();
    let openssl = median(RUNS, || program(&["openssl", "dgst", "-sha256", &path]))?;
    let ours = |threads: usize| {
        median(RUNS, || {
            let options = Options { threads: Some(threads), ..Options::default() };
            let verdict =
                packet::verify(&mut File::open(&path)?, &options, &mut |_| ControlFlow::Continue(()))?;
            if verdict.good { Ok(()) } else { Err("the packet does not verify".into()) }
        })
    };
    Ok(vec![
        ("packet_megabytes", std::fs::metadata(&path)?.len() as f64 / 1e6),
        ("verify_over_openssl", openssl / ours(2)?),
        ("verify_over_openssl_one_core", openssl / ours(1)?),
    ])
}
