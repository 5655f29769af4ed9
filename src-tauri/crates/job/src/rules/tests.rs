//! Each region's figures beside a quotation of the text they come from. What a quotation is from stands in the file's
//! `sources`; where the text itself was not read, the test says who describes it.

use super::*;

fn on_file(region: &str) -> RegionRules {
    all().unwrap().into_iter().find(|rules| rules.region == region).unwrap()
}

#[test]
fn a_region_is_one_file() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("rules");
    let files = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name());
    let mut files: Vec<String> = files.map(|name| name.into_string().unwrap()).collect();
    files.sort();
    let mut named: Vec<String> =
        all().unwrap().iter().map(|rules| format!("{}.json", rules.region.to_lowercase())).collect();
    named.sort();
    assert_eq!(files, named, "a file is called by its region's code");
}

#[test]
fn the_list_begins_with_the_states_and_ends_with_the_rest() {
    let codes: Vec<String> = all().unwrap().into_iter().map(|rules| rules.region).collect();
    let place = |code: &str| codes.iter().position(|one| one == code).unwrap();
    assert!(place("US-CA") < place("US-FL") && place("US-FL") < place("US-other"), "{codes:?}");
    assert!(place("US-other") < place("MX") && place("GB") < place("other"), "{codes:?}");
    assert_eq!(codes.last().map(String::as_str), Some("other"));
}

#[test]
fn every_file_reads_and_every_known_rule_names_a_source() {
    for rules in &all().unwrap() {
        let region = rules.region.as_str();
        let sources = |field: &str| rules.sources.iter().any(|s| s.supports.iter().any(|f| f == field));
        assert!(rules.check_local_rules, "{region}");
        assert!(!rules.name.is_empty() && !rules.name_es.is_empty(), "{region}");
        assert!(rules.keeps_years >= rules.law_keeps_years.unwrap_or(0).max(6), "{region}");
        let answers = [
            ("written_estimate", rules.written_estimate),
            ("waiver", rules.waiver),
            ("margin_per_line", rules.margin_per_line),
            ("called_number", rules.called_number),
            ("telephone_holds_parts", rules.telephone_holds_parts),
            ("sublet_disclosed", rules.sublet_disclosed),
            ("old_parts_offered", rules.old_parts_offered),
            ("registration_number", rules.registration_number),
            ("seller_number_on_bill", rules.seller_number_on_bill),
            ("part_condition_on_invoice", rules.part_condition_on_invoice),
            ("supplies_line", rules.supplies_line),
            ("core_taxed", rules.core_taxed),
        ];
        for (field, answer) in answers {
            assert_eq!(answer != Answer::Unknown, sources(field), "{region} {field}");
        }
        let has_margin = rules.margin_percent.is_some() || rules.margin_cents.is_some();
        assert_eq!(has_margin || rules.known(), sources("margin"), "{region} margin");
        let has_warranty = rules.warranty_days.is_some() || rules.warranty_months.is_some();
        let figures = [
            ("keeps_years", rules.law_keeps_years.is_some()),
            ("written_above_cents", rules.written_above_cents.is_some()),
            ("estimate_valid_days", rules.estimate_valid_days.is_some()),
            ("card_notice_days", rules.card_notice_days.is_some()),
            ("warranty", has_warranty),
            ("warranty", rules.warranty_distance.is_some()),
            ("warranty", rules.warranty_unit.is_some()),
            ("prices_include_tax", rules.locale.prices_include_tax),
            ("parts_taxed", true),
            ("labour_taxed", true),
            ("tax_basis", true),
            ("locale", true),
        ];
        for (field, known) in figures {
            assert_eq!(known, sources(field), "{region} {field}");
        }
        assert!(rules.margin_cap_cents.is_none() || has_margin, "{region}: a cap on no margin");
        assert!(rules.margin_cap_cents.is_none_or(|cap| cap > Cents::ZERO), "{region}: a cap is above zero");
        assert_eq!(rules.locale.sign.is_empty(), rules.currency.is_empty(), "{region}");
        assert_ne!(rules.locale.decimal, rules.locale.group, "{region}");
    }
}

#[test]
fn every_source_supports_a_field_there_is() {
    let known = serde_json::to_value(on_file("US-CA")).unwrap();
    let known = known.as_object().unwrap();
    let groups = ["margin", "warranty", "prices_include_tax"];
    for rules in all().unwrap() {
        for field in rules.sources.iter().flat_map(|source| &source.supports) {
            assert!(
                known.contains_key(field) || groups.contains(&field.as_str()),
                "{} {field}",
                rules.region
            );
        }
    }
}

#[test]
fn unknown_regions_have_no_margin_and_ask_for_writing() {
    for region in ["US-TX", "FR", "", "US-other", "other", "MX", "GB", "CA-BC", "🔧", "us-ca"] {
        let rules = of_region(region);
        assert_eq!(rules.region, region);
        assert_eq!(rules.margin(), MarginRule::default(), "{region}");
        assert!(rules.requires_written() && !rules.known(), "{region}");
    }
    assert_eq!(
        RegionRules {
            name: "Other country".into(),
            name_es: "Otro país".into(),
            sources: of_region("").sources,
            ..RegionRules::strictest()
        },
        of_region("")
    );
}

#[test]
fn california() {
    let rules = on_file("US-CA");
    // 16 CCR 3353: "An estimate shall be provided to and authorized by the customer before any work commences."
    assert_eq!((rules.written_estimate, rules.written_above_cents), (Answer::Yes, None));
    // 16 CCR 3354(a): "before any additional charges accrue for labor or parts in excess of the original estimated and
    // authorized price".
    assert_eq!(rules.margin(), MarginRule::default());
    // 16 CCR 3356(d)(3): "The telephone number or electronic mail address contacted, if any, to obtain the authorization."
    assert_eq!(rules.called_number, Answer::Yes);
    // 16 CCR 3356(b): "The invoice shall show the automotive repair dealer's registration number"; (c)(2): "whether the part
    // was new, used, reconditioned, rebuilt".
    assert_eq!((rules.registration_number, rules.part_condition_on_invoice), (Answer::Yes, Answer::Yes));
    // 16 CCR 3358: "for at least three years".
    assert_eq!(rules.law_keeps_years, Some(3));
    // A journal on the 2007 amendment: "Separate billing on an invoice for items generically noted as shop supplies,
    // miscellaneous parts, or the like, is prohibited."
    assert_eq!(rules.supplies_line, Answer::No);
    // A course of the state's courts on 9884.9(b): "Such work cannot be done without the customer's consent".
    assert_eq!(rules.sublet_disclosed, Answer::Yes);
    // The shops' sign, as a court prints it: "Return of replaced parts, if requested at the time a work order is placed."
    assert_eq!(rules.old_parts_offered, Answer::OnRequest);
    // Tax office: "Generally, your charges for labor and services are not taxable"; "When you sell a new or used part and
    // include a core charge, the core charge is taxable."
    assert_eq!((rules.parts_taxed, rules.labour_taxed, rules.core_taxed), (true, false, Answer::Yes));
}

#[test]
fn new_york() {
    let rules = on_file("US-NY");
    // Vehicle and Traffic Law 398-d(2): "Upon the request of any customer, a motor vehicle repair shop shall make an estimate
    // in writing [...] and shall not charge for work done or parts supplied in excess of the estimate without the consent".
    assert_eq!((rules.written_estimate, rules.margin()), (Answer::OnRequest, MarginRule::default()));
    assert!(!rules.requires_written());
    // 398-d(1): "shall make available to the customer, upon timely written demand, or for such work authorized over the
    // telephone, shall keep until the customer's motor vehicle is retrieved, all replaced parts".
    assert_eq!((rules.old_parts_offered, rules.telephone_holds_parts), (Answer::OnRequest, Answer::Yes));
    // 398-d(1): "If any used parts are supplied, the invoice shall clearly state that fact."
    assert_eq!(rules.part_condition_on_invoice, Answer::Yes);
    // 15 NYCRR 82.9(a): "Such copies shall be kept for two years".
    assert_eq!(rules.law_keeps_years, Some(2));
    // TB-ST-40: "You must collect sales tax on the total charge for parts and labor for the repair services that you provide."
    for kind in [LineKind::Labor, LineKind::Diagnosis, LineKind::Programming, LineKind::Part, LineKind::Fee] {
        assert!(rules.starts_taxed(kind), "{kind:?}");
    }
}

#[test]
fn michigan() {
    let rules = on_file("US-MI");
    // MCL 257.1307e(a): "Unless legally waived by the customer, fail to give the customer a written estimate".
    assert_eq!((rules.written_estimate, rules.waiver), (Answer::Yes, Answer::Yes));
    // The department's manual, 4-1.1: "when the price of the diagnosis, service, or repair of a motor vehicle will be $50 or
    // more"; 4-1.2: "The facility's registration number"; "the actual dollar amount which will be charged for shop supplies".
    assert_eq!(rules.written_above_cents, Some(Cents(4_999)));
    assert_eq!((rules.registration_number, rules.supplies_line), (Answer::Yes, Answer::Yes));
    // MCL 257.1332 as others quote it: the lesser of 10 % or $50; "$50 over is Michigan's cap only from $500 up".
    for (approved, margin) in [(8_000, 800), (40_000, 4_000), (50_000, 5_000), (80_000, 5_000)] {
        assert_eq!(rules.margin().margin_on(Cents(approved)), Cents(margin), "{approved}");
    }
    // MCL 257.1307e(d): "his or her right to receive or inspect replaced parts"; 257.1334(f): "a specification as to which are
    // new, used, rebuilt, or reconditioned".
    assert_eq!((rules.old_parts_offered, rules.part_condition_on_invoice), (Answer::Yes, Answer::Yes));
}

#[test]
fn florida() {
    let rules = on_file("US-FL");
    // Fla. Stat. 559.905(1): "the cost of which repair work will exceed $100 to the customer".
    assert_eq!((rules.written_estimate, rules.written_above_cents), (Answer::Yes, Some(Cents(10_000))));
    // 559.909(1)(b): "more than $10 or 10 percent, whichever is greater, but not to exceed $50".
    for (approved, margin) in [(5_000, 1_000), (20_000, 2_000), (50_000, 5_000), (200_000, 5_000)] {
        assert_eq!(rules.margin().margin_on(Cents(approved)), Cents(margin), "{approved}");
    }
    // 559.905(1)(h): "The estimated cost of repair which shall include any charge for shop supplies".
    assert_eq!(rules.supplies_line, Answer::Yes);
    // The department: "How long do I have to keep records of my business? One year."
    assert_eq!(rules.law_keeps_years, Some(1));
    // 12A-1.006(1)(a): "Where parts are furnished by the repairer, the entire charge [...] is taxable."
    assert!(rules.starts_taxed(LineKind::Labor) && rules.starts_taxed(LineKind::Sublet));
}

#[test]
fn illinois() {
    let rules = on_file("US-IL");
    // 815 ILCS 306/15(a): "No work for compensation that exceeds $100"; (b): "a written estimated price for labor and parts
    // [...] that exceeds the estimate by more than 10% without oral or written consent".
    assert_eq!((rules.written_estimate, rules.written_above_cents), (Answer::Yes, Some(Cents(10_000))));
    assert_eq!(rules.margin().margin_on(Cents(100_000)), Cents(10_000));
    // 306/20: "You may waive your right to a written estimate".
    assert_eq!(rules.waiver, Answer::Yes);
    // 306/25: "the date, time, name of person authorizing the additional repairs, and telephone number called, if any".
    assert_eq!(rules.called_number, Answer::Yes);
    // 306/50(d): "for a period of 2 years from the date of repair".
    assert_eq!(rules.law_keeps_years, Some(2));
    // 86 Ill. Adm. Code 140.110: of $500 with $300 of labor the base is "$200 (Selling price)".
    assert_eq!((rules.parts_taxed, rules.labour_taxed), (true, false));
}

#[test]
fn ontario() {
    let rules = on_file("CA-ON");
    // O. Reg. 17/05, s. 48: "shall be in writing"; paragraph 7: "a new part [...], a used part or a reconditioned part".
    assert_eq!((rules.written_estimate, rules.part_condition_on_invoice), (Answer::Yes, Answer::Yes));
    // The ministry: "cannot exceed the amount in the written estimate by more than 10 per cent".
    assert_eq!(rules.margin().margin_on(Cents(100_000)), Cents(10_000));
    // The ministry: "a statutory warranty of 90 days or 5,000 km, whichever comes first".
    let warranty = (rules.warranty_days, rules.warranty_distance, rules.warranty_unit);
    assert_eq!(warranty, (Some(90), Some(5_000), Some(OdometerUnit::Km)));
}

#[test]
fn spain() {
    let rules = on_file("ES");
    // Real Decreto 1457/1986, art. 14.1: "Todo usuario [...] tiene derecho a un presupuesto escrito. Este presupuesto tendrá
    // una validez mínima de doce días hábiles."
    assert_eq!((rules.written_estimate, rules.estimate_valid_days), (Answer::Yes, Some(12)));
    // "solamente previa conformidad expresa del mismo podrá realizarse la reparación".
    assert_eq!(rules.margin(), MarginRule::default());
    // Art. 16.2: "caducará a los tres meses o 2.000 kilómetros recorridos".
    let warranty = (rules.warranty_months, rules.warranty_distance, rules.warranty_unit);
    assert_eq!(warranty, (Some(3), Some(2_000), Some(OdometerUnit::Km)));
    assert_eq!(rules.warranty_days, None, "three months aren't ninety days");
    // Art. 14.2(a): "El número de identificación fiscal y el domicilio del taller": no number of a register of shops.
    assert_eq!(rules.registration_number, Answer::Unknown);
    assert_eq!(rules.locale.seller_number, SellerNumber::Nif);
    // Real Decreto 1619/2012, art. 6.1.d, as others quote it: "Número de Identificación Fiscal [...] con el que ha realizado
    // la operación el obligado a expedir la factura."
    assert_eq!(rules.seller_number_on_bill, Answer::Yes);
}

#[test]
fn sellers_numbers() {
    // Value Added Tax Regulations 1995, reg. 14(1)(d): "the name, address and registration number of the supplier".
    let known = |region: &str| {
        let rules = on_file(region);
        (rules.locale.seller_number, rules.seller_number_on_bill)
    };
    assert_eq!(known("GB"), (SellerNumber::Vat, Answer::Yes));
    // Código Fiscal de la Federación, art. 29-A, I: "La clave del Registro Federal de Contribuyentes, nombre o razón social de
    // quien los expida".
    assert_eq!(known("MX"), (SellerNumber::Rfc, Answer::Yes));
    // Revenu Québec on the federal rule: "Your supplier must provide you with this information in writing at your request."
    assert_eq!(known("CA-ON"), (SellerNumber::GstHst, Answer::OnRequest));
    assert_eq!(known("US-CA"), (SellerNumber::None, Answer::Unknown));
}

/// Written as Unicode CLDR has it; `ui/src/format/locale.test.ts` asks the browser's own tables.
#[test]
fn amounts_are_written_as_at_home() {
    for (region, shown, below_zero) in [
        ("US-CA", "$1,234.50", "-$0.05"),
        ("CA-ON", "$1,234.50", "-$0.05"),
        ("GB", "£1,234.50", "-£0.05"),
        ("MX", "$1,234.50", "-$0.05"),
        ("ES", "1.234,50\u{a0}€", "-0,05\u{a0}€"),
        ("other", "1,234.50", "-0.05"),
    ] {
        let locale = on_file(region).locale;
        assert_eq!(locale.amount(Cents(123_450)), shown, "{region}");
        assert_eq!(locale.amount(Cents(-5)), below_zero, "{region}");
    }
    let read = |region: &str, text: &str| Cents::typed(text, on_file(region).locale.marks()).ok();
    assert_eq!(read("ES", "1.250"), Some(Cents(125_000)));
    assert_eq!(read("ES", "1.250,00 €"), Some(Cents(125_000)));
    assert_eq!(read("US-CA", "1.250"), None);
    assert_eq!(read("GB", "£1,250.00"), Some(Cents(125_000)));
    assert_eq!((read("other", "1.250"), read("other", "1,250")), (None, None));
}

#[test]
fn a_chosen_number_of_years_never_passes_below_the_rule() {
    let california = on_file("US-CA");
    let years = |chosen| california.keeps(chosen);
    assert_eq!((years(None), years(Some(1)), years(Some(3)), years(Some(10))), (6, 3, 3, 10));
    assert_eq!(on_file("other").keeps(Some(1)), 1);
}
