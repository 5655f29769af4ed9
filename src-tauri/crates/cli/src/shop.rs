//! The whole shop from a shell: backup, return, open forms, packets for a recipient, times from outside.

use crate::error::{CliError, file, print_json};
use crate::{figures, folder, forgetting, open};
use api::entry::{
    FoundPhotoEntry, PacketEntry, PhotoChoice, PhotoPurpose, PhotoShare, Recipient, ReportEntry, ReportForm,
    RestoreEntry,
};
use api::{Work, Workshop};
use clap::{Args, Subcommand};
use std::io::BufRead;
use std::path::{Path, PathBuf};

/// The whole shop: backup, return, open forms, times from outside.
#[derive(Args)]
pub struct ShopCommand {
    /// Data folder; the app's own if not given.
    #[arg(long, value_name = "DIR", global = true)]
    data: Option<PathBuf>,
    #[command(subcommand)]
    what: What,
}

#[derive(Subcommand)]
enum What {
    /// Write one encrypted file into the export folder. The passphrase is read from standard input, one line.
    Backup {
        /// Put the signing key in: whoever has this backup and its passphrase can then sign as this shop. Without it, a
        /// restored shop goes on as a second device, or with a new key that is said to be new.
        #[arg(long)]
        with_key: bool,
    },
    /// Read everything that is kept and hold it against its hashes and signatures; of a backup, say what it holds and
    /// whether it is damaged.
    Check {
        /// A backup, to be checked in place of the shop. Its passphrase is read from standard input.
        file: Option<PathBuf>,
    },
    /// Restore a backup where no shop is set up yet. The passphrase is read from standard input.
    Restore {
        /// The backup.
        file: PathBuf,
        /// Go on as a second device with a key of its own; the first one goes on beside it.
        #[arg(long)]
        second_device: bool,
    },
    /// Write records, photos and lists in open forms into the export folder.
    Export,
    /// Print the ledger of all jobs: what was billed, credited, paid and owed, as double entry.
    Ledger {
        /// journal (plain text, as hledger and programs like it read it) or csv.
        #[arg(long, default_value = "journal", value_parser = ["journal", "csv"])]
        form: String,
    },
    /// Take in an open export: what is new is added, what is known stays.
    Import {
        /// The export's folder.
        folder: PathBuf,
        /// Fingerprint of another device's key that you have compared: 64 hexadecimal digits. May be given several times.
        #[arg(long, value_name = "HEX")]
        trust: Vec<String>,
    },
    /// Take in the records of a job that nobody signed for when they were sealed: from here on they count.
    TakeIn {
        /// Number of the job.
        job: u32,
    },
    /// Write a report of a job for somebody: the customer's summary, a statement of dispute, or everything on record.
    Report {
        /// Number of the job.
        job: u32,
        /// customer, arbiter, card_issuer or supplier.
        #[arg(long, default_value = "customer", value_parser = recipient)]
        recipient: Recipient,
        /// summary, page (the summary as HTML), statement or full; what its reader is served best with if not given.
        #[arg(long, value_parser = form)]
        form: Option<ReportForm>,
        /// A statement about this supplier's bill, by the name as it stands in the job.
        #[arg(long, value_name = "NAME", default_value = "")]
        supplier: String,
        /// en or es.
        #[arg(long, default_value = "en")]
        language: String,
    },
    /// Print the text message that tells the customer the result.
    Message {
        /// Number of the job.
        job: u32,
        /// en or es.
        #[arg(long, default_value = "en")]
        language: String,
    },
    /// Write the packet of a job for somebody, or show exactly what it would hand out.
    Packet {
        /// Number of the job.
        job: u32,
        /// customer, arbiter, card_issuer or supplier.
        #[arg(long, default_value = "customer", value_parser = recipient)]
        recipient: Recipient,
        /// For a supplier, or for an arbiter of its bill: the supplier, by the name as it stands in the job.
        #[arg(long, default_value = "")]
        supplier: String,
        /// en or es.
        #[arg(long, default_value = "en")]
        language: String,
        /// Show what would go out; write nothing.
        #[arg(long)]
        preview: bool,
        /// What goes out of one photo: HASH=original, HASH=stripped (a copy without what the camera saved), HASH=covered or
        /// HASH=withheld. May be given for several photos.
        #[arg(long, value_name = "HASH=SHARE", value_parser = photo_choice)]
        photo: Vec<PhotoChoice>,
    },
    /// List photos that were taken and are on no job, because the program was ended before their record was kept.
    FoundPhotos {
        /// Put the photo with this hash on a job: --job and --purpose say which and what it shows.
        #[arg(long, value_name = "HASH", requires = "job", requires = "purpose", conflicts_with = "destroy")]
        attach: Option<String>,
        /// Number of the job.
        #[arg(long)]
        job: Option<u32>,
        /// arrival, identity, pin_out, reading, part, programming or repair.
        #[arg(long, value_parser = code::<PhotoPurpose>)]
        purpose: Option<PhotoPurpose>,
        /// Throw the photo with this hash away for good.
        #[arg(long, value_name = "HASH")]
        destroy: Option<String>,
    },
    /// Say what deleting a customer's data would destroy and what it can't reach; with --now, do it.
    Forget {
        /// Number of the job.
        job: u32,
        /// Destroy it now, for good.
        #[arg(long)]
        now: bool,
    },
    /// Go on with a new key because the old one is gone, as after restoring a backup without it. Every check of a job that
    /// goes on shows the break.
    KeyLost,
    /// Say whether the shop should buy a programming tool, from its own jobs and the offer in its settings.
    Tool {
        /// Everything as JSON.
        #[arg(long)]
        json: bool,
    },
    /// What a year of the shop came to, from records alone.
    Year {
        /// The year, four digits.
        year: String,
        /// Everything as JSON.
        #[arg(long)]
        json: bool,
    },
    /// Ask the chosen authorities for every time-stamp that waits.
    Stamp,
    /// Say what opening the shop found and nobody has read yet.
    Notices {
        /// Take them as read.
        #[arg(long)]
        acknowledge: bool,
    },
}

impl ShopCommand {
    pub fn run(self) -> Result<(), CliError> {
        let data = folder::data(self.data);
        match self.what {
            What::Backup { with_key } => {
                print_json(&open::shop(&data)?.backup_write(&passphrase()?, with_key)?)
            }
            What::Check { file: Some(file) } => {
                print_json(&api::backup_check(&file, &passphrase()?, &Work::default())?)
            }
            What::Check { file: None } => check(&data),
            What::Forget { job, now } => forgetting::forget(&data, job, now),
            What::KeyLost => print_json(&open::shop(&data)?.key_lost("")?),
            What::Restore { file, second_device } => restore(&data, &file, second_device),
            What::Export => print_json(&open::shop(&data)?.open_export()?),
            What::Ledger { form } => {
                let ledger = open::shop(&data)?.ledger()?;
                print!("{}", if form == "csv" { ledger.csv } else { ledger.journal });
                Ok(())
            }
            What::Import { folder, trust } => print_json(&open::shop(&data)?.open_import(&folder, &trust)?),
            What::TakeIn { job } => take_in(&data, job),
            What::Report { job, recipient, form, supplier, language } => {
                let preset = ReportEntry::preset(&language, recipient);
                report(&data, job, &ReportEntry { form: form.unwrap_or(preset.form), supplier, ..preset })
            }
            What::Message { job, language } => {
                let workshop = open::shop(&data)?;
                println!("{}", workshop.result_message(&workshop.job_of_number(job)?, &language)?);
                Ok(())
            }
            What::Packet { job, recipient, supplier, language, preview, photo } => {
                let entry =
                    PacketEntry { supplier, photos: photo, ..PacketEntry::preset(&language, recipient) };
                packet(&data, job, &entry, preview)
            }
            What::FoundPhotos { attach, job, purpose, destroy } => {
                found_photos(&data, attach.zip(job).zip(purpose), destroy)
            }
            What::Tool { json } => figures::tool(&open::shop(&data)?, json),
            What::Year { year, json } => figures::year(&open::shop(&data)?, &year, json),
            What::Stamp => print_json(&open::shop(&data)?.timestamps_fetch(true)?),
            What::Notices { acknowledge } => notices(&data, acknowledge),
        }
    }
}

fn restore(data: &Path, backup: &Path, second_device: bool) -> Result<(), CliError> {
    let entry = RestoreEntry {
        path: backup.display().to_string(),
        passphrase: passphrase()?,
        restore_as: if second_device { "second_device" } else { "same_device" }.to_owned(),
    };
    print_json(&api::restore(data, &entry, &Work::default())?)
}

/// What was found has been said as notices by then; here it is only counted.
fn check(data: &Path) -> Result<(), CliError> {
    let workshop = Workshop::open(data)?;
    let checked = workshop.shop_check()?;
    let language = open::language(&workshop)?;
    for notice in workshop.notices_view()? {
        eprintln!("{}", open::sentence(&notice, language));
    }
    print_json(&checked)
}

fn take_in(data: &Path, number: u32) -> Result<(), CliError> {
    let workshop = open::shop(data)?;
    let job = workshop.job_of_number(number)?;
    print_json(&workshop.records_take_in(&job)?.timeline.last())
}

fn report(data: &Path, number: u32, entry: &ReportEntry) -> Result<(), CliError> {
    let workshop = open::shop(data)?;
    let job = workshop.job_of_number(number)?;
    print_json(&workshop.report_write(&job, entry)?.reports.last())
}

fn packet(data: &Path, number: u32, entry: &PacketEntry, preview: bool) -> Result<(), CliError> {
    let workshop = open::shop(data)?;
    let job = workshop.job_of_number(number)?;
    if preview {
        return print_json(&workshop.packet_preview(&job, entry)?);
    }
    let verdict = workshop.packet_write(&job, entry)?;
    print_json(&workshop.job_view(&job)?.packets)?;
    if verdict.good { Ok(()) } else { Err(CliError::BadPacket(number.to_string())) }
}

type Onto = ((String, u32), PhotoPurpose);

fn found_photos(data: &Path, attach: Option<Onto>, destroy: Option<String>) -> Result<(), CliError> {
    let workshop = open::shop(data)?;
    if let Some(((sha256, job), purpose)) = attach {
        let job = workshop.job_of_number(job)?;
        workshop.found_photo_attach(&job, &FoundPhotoEntry { sha256, purpose })?;
    }
    match destroy {
        Some(sha256) => print_json(&workshop.found_photo_destroy(&sha256)?),
        None => print_json(&workshop.found_photos()?),
    }
}

fn notices(data: &Path, acknowledge: bool) -> Result<(), CliError> {
    let workshop = Workshop::open(data)?;
    let language = open::language(&workshop)?;
    for notice in workshop.notices_view()? {
        println!("{}", open::sentence(&notice, language));
        if acknowledge {
            workshop.notice_acknowledge(&notice.id)?;
        }
    }
    Ok(())
}

fn form(code: &str) -> Result<ReportForm, String> {
    let found = ReportForm::ALL.into_iter().find(|form| form.code() == code);
    found.ok_or_else(|| "use summary, page, statement or full".to_owned())
}

fn recipient(code: &str) -> Result<Recipient, String> {
    let codes = || Recipient::ALL.map(Recipient::code).join(", ");
    Recipient::of(code).ok_or_else(|| format!("choose one of {}", codes()))
}

fn photo_choice(text: &str) -> Result<PhotoChoice, String> {
    let (photo, share) = text.split_once('=').ok_or("write HASH=SHARE")?;
    Ok(PhotoChoice { photo: photo.to_owned(), share: code::<PhotoShare>(share)? })
}

/// A value of a closed set by its code.
fn code<T: serde::de::DeserializeOwned>(code: &str) -> Result<T, String> {
    serde_json::from_value(code.into()).map_err(|error| error.to_string())
}

/// One line of standard input: on the command line others could read it.
fn passphrase() -> Result<String, CliError> {
    let mut line = String::new();
    std::io::stdin().lock().read_line(&mut line).map_err(file("read", Path::new("standard input")))?;
    Ok(line.trim_end_matches(['\r', '\n']).to_owned())
}
