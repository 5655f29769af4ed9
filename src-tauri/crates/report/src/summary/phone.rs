//! The summary as one file that reflows on a phone: no script, nothing from elsewhere, the pictures inside.

use super::Summary;
use super::amounts::Cell;
use super::appendix::Row;
use super::comparison::{Comparison, Picture, Side};
use super::headline::Status;
use super::scale::Scale;
use crate::page::bill::Bill;
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use maud::{DOCTYPE, Markup, PreEscaped, html};
use std::collections::BTreeMap;

const STYLE: &str = include_str!("../../template/phone.css");

/// Files of the page by path.
type Files = BTreeMap<String, Vec<u8>>;

/// The page. Whatever a user wrote is escaped by the macro.
pub(crate) fn page(summary: &Summary, files: &Files, qr: &str) -> String {
    let label = |name: &str| summary.labels.get(name).map_or("", String::as_str);
    let head = &summary.head;
    let markup = html! {
        (DOCTYPE)
        html lang=(summary.language) {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="referrer" content="no-referrer";
                meta http-equiv="Content-Security-Policy" content="default-src 'none'; img-src data:; style-src 'unsafe-inline'";
                title { (summary.title) }
                style { (PreEscaped(STYLE)) }
            }
            body {
                header {
                    strong { (head.shop) }
                    @for line in &head.shop_lines { p { (line) } }
                    p { (head.job) }
                    @for line in &head.job_lines { p { (line) } }
                    @if let Some((name, vin)) = &head.vin { p { (name) " " (vin) } }
                }
                main {
                    @if let Some(complaint) = &summary.complaint {
                        p.soft { (label("complaint")) }
                        blockquote { "“" (complaint) "”" }
                    }
                    section {
                        p class={ "status " (tone(good_of(summary.headline.status))) } {
                            (sign(good_of(summary.headline.status))) " " (summary.headline.words)
                        }
                        h1 { (summary.headline.text) }
                    }
                    @if let Some(comparison) = &summary.comparison { (compared(comparison, files)) }
                    @if let Some(strip) = &summary.strip {
                        section {
                            h2 { (label("strip")) }
                            ol.way {
                                @for stop in &strip.stops {
                                    li class=(tone(stop.good)) { (sign(stop.good)) " " (stop.name) @if !stop.words.is_empty() { ": " (stop.words) } }
                                }
                            }
                        }
                    }
                    section { h2 { (label("proven")) } ul { @for line in &summary.known.proven { li { (line) } } } }
                    section { h2 { (label("unknown")) } ul { @for line in &summary.known.unknown { li { (line) } } } }
                    section {
                        h2 { (label("money")) }
                        div.amounts { @for cell in &summary.amounts.cells { (amount(cell)) } }
                        @if let Some(who) = &summary.amounts.who { p { (who) } }
                    }
                    section {
                        div.closing { @for closing in &summary.closing { div { h2 { (closing.label) } p { (closing.text) } } } }
                    }
                    (readings(summary, &label))
                    @if !summary.photos.items.is_empty() {
                        section {
                            h2 { (label("photos")) }
                            div.sides { @for picture in &summary.photos.items { (shown(picture, files)) } }
                            @if !summary.photos.note.is_empty() { p.soft { (summary.photos.note) } }
                        }
                    }
                    @for one in &summary.bills { (bill(one, &label)) }
                    (approvals(summary, &label))
                    section { h2 { (label("how")) } ol { @for line in &summary.how { li { (line) } } } }
                    section { h2 { (label("limits")) } ul { @for line in &summary.limits { li { (line) } } } }
                    section {
                        h2 { (label("check")) }
                        p.words { (summary.words) }
                        p { (label("check_text")) }
                        img.qr src=(data("image/svg+xml", qr.as_bytes())) alt=(label("qr_alt"));
                    }
                }
                footer { p.soft { (head.foot) } }
            }
        }
    };
    markup.into_string()
}

fn data(media_type: &str, bytes: &[u8]) -> String {
    format!("data:{media_type};base64,{}", STANDARD.encode(bytes))
}

const fn good_of(status: Status) -> Option<bool> {
    match status {
        Status::Fixed => Some(true),
        Status::NotFixed | Status::NotGood => Some(false),
        Status::NotProven => None,
    }
}

const fn tone(good: Option<bool>) -> &'static str {
    match good {
        Some(true) => "good",
        Some(false) => "bad",
        None => "",
    }
}

/// A tick, a cross or a question mark: told apart without color; the words beside it say the same.
fn sign(good: Option<bool>) -> Markup {
    let sign = match good {
        Some(true) => "✓",
        Some(false) => "✗",
        None => "?",
    };
    html! { span aria-hidden="true" { (sign) } }
}

fn compared(comparison: &Comparison, files: &Files) -> Markup {
    html! {
        section {
            h2 { (comparison.title) }
            p.soft { (comparison.place) }
            div.sides {
                (side(&comparison.before, files))
                @if let Some(after) = &comparison.after { (side(after, files)) }
            }
            @if let Some(scale) = &comparison.scale { (scaled(scale, comparison)) }
            @if let Some(good) = &comparison.good { p.good { (good) } }
        }
    }
}

fn side(side: &Side, files: &Files) -> Markup {
    html! {
        div {
            p class={ "status " (tone(side.good)) } { (sign(side.good)) " " (side.label) }
            p class={ "value " (tone(side.good)) } { (side.value) }
            @for picture in &side.pictures { (shown(picture, files)) }
        }
    }
}

fn shown(picture: &Picture, files: &Files) -> Markup {
    html! {
        @if let Some(bytes) = files.get(&picture.path) {
            figure {
                img src=(data("image/jpeg", bytes)) alt=(picture.alt);
                figcaption { (picture.caption) }
            }
        }
    }
}

fn scaled(scale: &Scale, comparison: &Comparison) -> Markup {
    let percent = |share: f64| format!("{:.1}%", share * 100.0);
    let (from, to) = scale.good;
    html! {
        div.scale role="img" aria-label=(comparison.scale_alt) {
            i style={ "left:" (percent(from)) ";width:" (percent(to - from)) } {}
            b class=(tone(comparison.before.good)) style={ "left:" (percent(scale.before)) } { (sign(comparison.before.good)) }
            @if let (Some(place), Some(after)) = (scale.after, &comparison.after) {
                b class=(tone(after.good)) style={ "left:" (percent(place)) } { (sign(after.good)) }
            }
        }
    }
}

fn amount(cell: &Cell) -> Markup {
    html! { div { strong { (cell.label) } p.value { (cell.amount) } p.soft { (cell.note) } } }
}

fn readings<'a>(summary: &'a Summary, label: &impl Fn(&str) -> &'a str) -> Markup {
    html! {
        section {
            h2 { (label("readings")) }
            @if summary.readings.rows.is_empty() { p { (label("no_readings")) } } @else {
                p.soft { (summary.readings.intro) }
                // A table wider than the screen is moved by keys, too.
                div.rows tabindex="0" role="region" aria-label=(label("readings")) {
                    table {
                        thead { tr { @for name in ["column_reading", "time", "what", "column_good", "value"] { th scope="col" { (label(name)) } } } }
                        tbody {
                            @for row in &summary.readings.rows {
                                @match row {
                                    Row::State { state } => { tr.state { td colspan="5" { (state) } } }
                                    Row::Reading { number, time, what, good, value, struck, is_good } => {
                                        tr {
                                            td { (number) } td.near { (time) } td { (what) } td { (good) }
                                            td class={ "near " (tone(*is_good)) } { (sign(*is_good)) " " @if *struck { s { (value) } } @else { strong { (value) } } }
                                        }
                                    }
                                }
                            }
                        }
                    }
                }
                @if let Some(note) = &summary.readings.note { p.soft { (note) } }
            }
        }
    }
}

fn bill<'a>(bill: &'a Bill, label: &impl Fn(&str) -> &'a str) -> Markup {
    html! {
        section {
            h2 { (label("invoice")) }
            p.soft { (bill.title) }
            div.rows tabindex="0" role="region" aria-label=(bill.title) {
                table {
                    thead { tr { th scope="col" { (label("what")) } th.amount scope="col" { (label("amount")) } } }
                    tbody {
                        @for line in &bill.lines {
                            tr { td { (line.description) " " span.soft { (line.kind) " · " (line.quantity) @if !line.detail.is_empty() { " · " (line.detail) } } } td.amount { (line.amount) } }
                        }
                        @for total in &bill.totals {
                            tr { td { @if total.strong { strong { (total.what) } } @else { (total.what) } } td.amount { @if total.strong { strong { (total.amount) } } @else { (total.amount) } } }
                        }
                    }
                }
            }
        }
    }
}

fn approvals<'a>(summary: &'a Summary, label: &impl Fn(&str) -> &'a str) -> Markup {
    html! {
        @if !summary.approvals.is_empty() {
            section {
                h2 { (label("approvals")) }
                ul { @for yes in &summary.approvals { li { strong { (yes.amount) } " · " (yes.who) @if !yes.said.is_empty() { " · " em { (yes.said) } } } } }
            }
        }
    }
}
