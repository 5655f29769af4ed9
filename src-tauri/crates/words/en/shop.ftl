### First start, device, settings, list of jobs.

first_title = Your shop
first_over = Setup
first_why = These names appear in every record and on every report. You can change them later; earlier records keep theirs.
shop_name = Shop name
technician = Your name
region = State or region, for the approval rules
region_pick = Choose a state or region
rules_margin = Margin over the approved total: { $percent }%
rules_no_margin = No margin over the approved total.
rules_written = A written estimate is required.
rules_years = Records are kept for { $years ->
    [one] { $years } year
   *[other] { $years } years
}.
rules_sources = Where this comes from
registration = Shop registration number
labour_rate = Labor rate per hour
tax_percent = Sales tax, in percent
set_up = Create the key and start
device_title = This phone’s key
device_why = This key signs what you save. Every customer sees its fingerprint at approval, so no one can swap the key later.
fingerprint = Fingerprint
fingerprint_words = Fingerprint in words
fingerprint_qr = Fingerprint as a QR code
protection = How the key is protected
protection_owner_only_file = In a file only this app can read.
protection_passphrase = In a file only this app can read, encrypted with your passphrase.
protection_hardware = In the phone’s secure key storage.
protection_no_key = No key
to_jobs = Go to jobs

jobs_title = Jobs
jobs_search = Find a job
jobs_search_hint = Vehicle, customer, phone, plate, VIN, complaint or job number
jobs_filter = Show only
jobs_all = All jobs
jobs_all_again = Show all jobs
jobs_none_here = No job is here right now.
jobs_none = No jobs yet
jobs_none_first = Tap “New job”. Write down the complaint first, in the customer’s words; then the vehicle.
jobs_no_match = No job matches all of these words.
jobs_count = Jobs shown: { $count } of { $total }
jobs_count_more = Jobs shown: { $count } of more than { $total }
job_new = New job
job_number = Job { $number }
vehicle_unknown = Vehicle not entered yet
settings = Settings

settings_title = Settings
language = Language
language_en = English
language_es = Español
theme = Light
theme_light = Light (outdoors)
theme_dark = Dark
theme_system = Same as phone
hand = Hand that holds the phone
hand_right = Right
hand_left = Left
text_size = Text size
text_size_percent = { $size }%
vibration = Vibrate when something is saved or fails
shop_change = Shop, labor rate and tax
settings_kept = Changes are saved right away.

stage_intake = check-in
stage_measuring = testing
stage_finding = finding
stage_estimate = estimate
stage_approved = approved
stage_repair = repair
stage_proof = fix proven
stage_invoiced = invoiced
stage_handed_over = delivered
waiting_customer = waiting for the customer
waiting_part = waiting for a part
waiting_appointment = waiting for an appointment

jobs_more = Show more ({ $count } left)
jobs_more_than = Show more (over { $count } left)

source_text_read = we read the rule itself
source_described_by_others = described by an agency or journal; we have not read the rule itself
source_from_memory = from memory: look it up before relying on it
source_common_practice = common practice, no source

year_title = Your year
year_why = Counted from records alone. Each thing counts in the year of its own record.
year_earlier = { $year }: the year before
year_later = { $year }: the year after
year_opened = Jobs opened
year_closed = Jobs handed over
year_hours = Hours of labor billed
year_agreed = Approved by customers
year_billed = Billed
year_paid = Paid
year_comebacks = Vehicles that came back
year_warranty = Warranty claims
year_modules_bought = Modules bought
year_modules_spared = Modules not bought, because another cause was found
year_without_price = Of these, without a price on record
year_spared_why = A module was on an estimate, asked for by the customer, or priced by you, and the finding called another part. Only prices that somebody wrote down are added up.
year_spared_job = Job { $number }
year_from_declined = on an estimate that was not carried out
year_from_typed = typed by you for this job
year_no_price = no price on record
