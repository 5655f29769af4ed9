### What the findings report says. Where it says the same as the screens, it takes their words;
### a key that begins with `report_` is what it says in their place, for a reader who is no technician.

approval_channel_e_mail = by email
approval_channel_in_person = in person
approval_channel_phone = by phone
approval_channel_text_message = by text message
approval_entry = Version { $version }, up to { $amount }, { $channel }, { $when }
report_approval_name = Approved by { $name }
approval_no_signature = No drawn signature is on record for this approval.
approval_old_parts_exchange = Old parts: handed in as an exchange
approval_old_parts_keep_by_shop = Old parts: the shop keeps them
approval_old_parts_return = Old parts: back to the customer
approval_signature_alt = Signature drawn at the approval of version { $version }
approval_signature_unreadable = A signature is on record but can’t be drawn here.
report_approval_words = In the customer’s words: “{ $words }”

bottom_bill = You approved { $approved }. The bill is { $total }.
bottom_bill_over = The bill is { $over } more than you approved.
bottom_called = We found the fault: { $cause }.
bottom_fixed = We measured the same spot after the repair. It read { $before } before and { $after } after.
bottom_likelihood = What we measured makes this { $likelihood }.
bottom_module = We found the fault in a control module: { $cause }.
bottom_module_checked = We first tested its power feeds, grounds, inputs and its output under load.
bottom_no_approval = We have no approved price on record.
bottom_no_bill = You approved { $approved }. There is no bill yet.
bottom_no_finding = We have not found the fault yet.
bottom_not_fixed = We have no reading from after the repair yet.
bottom_not_proven = The fault is not proven yet.
bottom_not_proven_guess = Buying a part now would be a guess.
bottom_open_fuse = A fuse blows because too much current went through it. What caused that has to be found, or the new fuse will blow too.
bottom_programming_failed_one = One try at programming failed. It was billed at { $billed } all the same.
bottom_programming_failed_many = { $count } tries at programming failed. They were billed at { $billed } all the same.
bottom_programming_less = Programming was quoted at { $quoted }. It was billed at { $billed }, which is { $difference } less.
bottom_programming_more = Programming was quoted at { $quoted }. It was billed at { $billed }, which is { $difference } more.

cause_text = { $part }: { $failure }
cause_unmodelled = Something outside the circuit we tested

complaint_present_no = The complaint was not there at that moment
complaint_present_unknown = We don’t know whether the complaint was there
complaint_present_yes = The complaint was there at that moment

condition_reconditioned = reconditioned

cost_approved = Approved, version { $version }
cost_approved_note = { $channel }, { $when }
cost_bill = Invoice { $number }
cost_not_approved = Requested in version { $version }, not approved
cost_over = Over the approved amount
cost_programming_billed = Programming, billed
cost_programming_attempt = Programming, attempt { $number }, billed
cost_programming_note = { $when }, { $outcome }
cost_programming_quoted_total = All attempts, quoted
cost_programming_billed_total = All attempts, billed
cost_programming_difference = Programming, bill minus quote
cost_programming_quoted = Programming, quoted
cost_under = Left of the approved amount

date = { $order ->
    [day_month_year] { $day } { $month } { $year }
   *[other] { $month } { $day }, { $year }
  }, { $time } (UTC{ $offset })
local_time = { $order ->
    [day_month_year] { $day } { $month } { $year }
   *[other] { $month } { $day }, { $year }
  }, { $time }

document_title = Findings report, job { $number }

doubt_entry = Entry { $sequence }, { $when }: { $doubt }
doubt_entry_photo = Entry { $sequence } (photo { $number }), { $when }: { $doubt }

ending_rules = Rules for estimates, approvals and bills vary from place to place. Check your local rules. Nothing printed here is legal advice.
ending_rules_region = Region set in the app: { $region }. Its rules were read here:

expected_at_least = at least { $min }
expected_at_most = at most { $max }
expected_between = { $min } to { $max }
expected_computed = calculated for a healthy circuit
expected_healthy = about { $value }
expected_unknown = no limit on record

failure_always_on = it never switches off
failure_dead = its output is dead
failure_draws_too_much = it draws too much current
failure_high_resistance = too much resistance
failure_jammed = it is stuck
failure_low_duty = it is on for too little of the time
failure_weak_signal = its signal is too weak (dirty tip, wide gap or damaged teeth)
failure_low_voltage = its voltage is too low
failure_leaks = its output leaks and doesn’t switch on
failure_not_commanded = the module holds it back: a condition isn’t met, or its programming
failure_open = it is open, no current gets through
failure_open_fuse = it is blown
failure_short_across = it is shorted end to end
failure_short_to_feed = it is shorted to power
failure_short_to_ground = it is shorted to ground
failure_stuck_closed = it never opens
failure_stuck_open = it never closes
failure_unresponsive = nothing switches it on
failure_weak = its output is weak

finding_engine = Calculated with { $engine }; circuit “{ $circuit }”, whose file has the hash
finding_entry = { $when }: { $outcome }
finding_or_programming = No scan tool was at hand: the module’s programming may be the cause just as well.
report_finding_words = In the technician’s words: “{ $words }”

ground_against = reading { $number } ({ $value }) { $weight } away from it ({ $times } to 1)
ground_for = reading { $number } ({ $value }) { $weight } to it ({ $times } to 1)
ground_line = What decided it: { $grounds }.

hand_over_entry = Delivered { $when }
report_hand_over_old_parts = Old parts: { $old_parts }
report_hand_over_warranty = Warranty: { $warranty }
warranty_until = Until { $end }
warranty_first = Until { $day } or { $odometer }, whichever comes first

invoice_hours = { $quantity } h at { $price }
invoice_part_number = number { $number }
invoice_pieces = { $quantity } at { $price }
invoice_provider = done by { $provider }
invoice_supplier = from { $supplier }
invoice_tax = { $tax }, { $rate }% of { $taxable }, rounded { $basis }
invoice_tax_included = { $tax } { $rate }%, in the prices above, rounded { $basis }
invoice_tax_basis_invoice = once per bill
invoice_tax_basis_line = line by line
invoice_title = Invoice { $number }, for version { $version } of the estimate, { $when }
invoice_total = Total

report_kind_core_charge = Core charge (deposit on the old part)
report_kind_core_credit = Core charge given back
report_kind_discount = Discount

label_approvals = Approvals
label_bill_amount = Amount
label_bill_line = What
label_bill_quantity = How much
label_bottom = What we found
label_cause = Cause
label_causes = Why this and not something else
label_cautions = Cautions acknowledged in this job
label_complaint = What you told us
label_cost = What it cost
label_customer = Customer
label_course = What each reading ruled out
label_doubts = Notes about clocks
label_drawing = The circuit and what was measured on it
label_endings = Before you rely on this report
label_findings = Findings on record
label_fingerprint = Fingerprint of the key that signs (SHA-256)
label_fingerprint_words = The key in eight words
label_good = Should be
label_hand_over = Delivery
label_invoice = Invoice
label_likelihood = How likely
label_meter = Meter
label_missing = What is still missing
label_odometer = Odometer
label_parts = Parts
label_photos = Photos and their hashes
label_photos_note = The small pictures are copies without location. The hash (SHA-256) belongs to the photo as it was taken.
label_plate = License plate
label_programming = Programming
label_proof = Before and after
label_reading = Reading
label_readings = Every reading we took
label_registration = Registration
label_remaining = What else it could be
label_seal = How to check that nothing was changed
label_seal_text = Checkpoint
label_seal_words = The checkpoint in eight words
label_technician = Technician
label_value = Value
label_vehicle = Vehicle
label_vin = VIN
label_where = What, where and how

likelihood = { $word } ({ $percent })

meter_entry = { $name }: { $ohms } input, ±({ $percent }% + { $counts } counts) on DC volts
meter_unnamed = Meter

report_missing_connector_not_clean = The connector was found damaged.
report_missing_connector_not_inspected = The connector was not opened and inspected.
report_missing_conditions_not_met = The scan tool shows that the module holds its output back: { $about }.
report_missing_conditions_not_read = What the module wants before it switches the output was not read by scan tool: { $about }.
report_missing_failing_reading_not_repeated = The failing reading was not repeated after the connector was inspected.
report_missing_ground_not_good = A ground is not good: { $about }.
report_missing_ground_not_observed = A ground was not measured while the fault was there: { $about }.
report_missing_harness_not_good = The wires at the module are not good with the module unplugged: { $about }.
report_missing_harness_not_observed = The wires at the module were not measured with the module unplugged: { $about }.
report_missing_input_not_good = An input is not good: { $about }.
report_missing_input_not_observed = An input was not checked while the fault was there: { $about }.
missing_more = { $names }; and { $count } more
report_missing_not_separable = No reading tells the module apart from: { $about }.
report_missing_output_does_not_fail = The output works under load: { $about }.
report_missing_output_not_observed_past_terminal = The output was not measured past its terminal while the fault was there: { $about }.
report_missing_output_not_observed_under_load = The output was not measured under load while the fault was there: { $about }.
report_missing_output_test_not_done = The output was not commanded by scan tool while the fault was there: { $about }.
report_missing_output_test_works = The output works when a scan tool commands it: { $about }.
report_missing_probability_too_low = The module is not likely enough.
report_missing_readings_contradict = Two readings contradict each other. One has to be repeated.
report_missing_rival_too_likely = Another cause is still too likely: { $about }.
report_missing_supply_not_good = A power feed is not good: { $about }.
report_missing_supply_not_observed = A power feed was not measured while the fault was there: { $about }.

mode_amps = DC amps

month_1 = January
month_10 = October
month_11 = November
month_12 = December
month_2 = February
month_3 = March
month_4 = April
month_5 = May
month_6 = June
month_7 = July
month_8 = August
month_9 = September

none_readings = No reading is on record.
none_remaining = No list of possible causes is on record.
none_withheld = not disclosed

outcome_cause_called = The cause was called.
outcome_module_called = The module was called.
outcome_not_proven = Not proven yet.

overturn_entry = { $test } { $result }
overturn_line = What would change it: { $results }.

page_job = { $shop } · job { $number } · opened { $opened }
page_of = Page { $page } of { $pages }
page_written = Job { $number } · report made { $when }

report_part_core = core charge (deposit on the old part) { $amount }
part_entry = { $description }, { $condition }
report_part_number = number { $number }
part_paid = paid { $price }
part_receipt = Receipt and part: { $photos }
part_return = Return policy: { $terms }
report_part_supplier = from { $supplier }, { $when }
report_part_warranty = Warranty: { $terms }

photo_alt = Photo { $number }: { $purpose }
photo_bytes = { $bytes } bytes
photo_entry = Photo { $number }: { $purpose }
photo_kept = saved { $when }
photo_left_out = picture left out to keep this file small
photo_marked = marks drawn in by the shop; the original has none
photo_missing = original missing at the shop since { $since }
photo_not_shown = no small picture at hand
photo_one = photo { $numbers }
photo_some = photos { $numbers }
photo_taken = camera’s time { $when }
photo_unclean = picture left out: it carries data about place or camera

report_programming_appointment = Appointment: { $appointment }
report_programming_decided = { $when }: { $route }, quoted { $quoted }
programming_outcome_failed = it failed
programming_outcome_module_lost = the module was bricked
programming_outcome_succeeded = it worked
report_programming_provider = Done by { $provider }
report_programming_reason = Why: { $reason }
programming_reported = { $when }: { $outcome }, billed { $billed }
report_programming_attempt = { $when }, attempt { $number }: { $outcome }, billed { $billed }
programming_corrected = Written down wrong; attempt { $number } corrects it and takes its place.
programming_software = Software { $before } before, { $after } after
report_programming_supply = Supply while programming: { $volts } V
programming_weighed = Compared: { $route }, { $cost } and { $hours } h expected, success { $success }

report_proof_note = Note: { $note }

qr_alt = QR code that holds the signed checkpoint as text

reading_withdrawn = Taken back by the technician
reading_corrected_by = Corrected by reading { $number }
reading_corrects = Corrects reading { $number }
reading_corrects_why = Corrects reading { $number }: { $reason }
reading_leads = red lead on { $red }, black lead on { $black }
reading_load = with { $load } as the load
reading_name = Reading { $number }
reading_note = Note: { $note }
reading_pin = pin { $number }, function not certain
reading_plain = Reading

report_route_dealer_sublet = a dealer does it
report_route_own_tool = the shop does it with its own tool
report_route_remote_service = a remote service does it

seal_compare = Compare these words with the ones you were given when you approved the price. A key that comes only with a file proves nothing.
seal_covers = Signed { $signed }. It covers the first { $size } entries of the job. This report is an entry after it.
seal_proves = A check can prove “unchanged since this key sealed it.” It can’t prove “true.” Whoever holds the key could have rewritten the entries after the last checkpoint you were given, or left out some at the end.
seal_stamp = An independent timestamp proves “existed by this time,” nothing earlier. Whoever holds the key could have back-dated work between two timestamps.
seal_time = The timestamp authority “{ $signer }” states: the first { $size } entries existed by { $time }.
seal_time_unknown = A stranger’s certificate, calling itself “{ $signer },” claims { $time } for the first { $size } entries. No certificate of theirs was named beforehand, so this proves no time.

state_entry = { $what }: { $position }

subtotal_labour = Labor and diagnosis
subtotal_other = Other
subtotal_parts = Parts
subtotal_sublet = Sublet work

report_unit_yes_no = { "" }

value_no = no
report_provoke_cooled = The part was cooled during the reading
report_provoke_heated = The part was warmed during the reading
report_provoke_wiggled = The wiring was wiggled during the reading

value_over_limit = OL (above the meter’s range)
value_over_range = more than { $range } (over limit in this range)
value_yes = yes

vehicle_odometer = { $odometer } { $unit }

weight_little = points slightly
weight_much = points clearly
weight_something = points somewhat
weight_very_much = points strongly
doubt_record_unusable = This record can’t be used; the job goes on without it
cost_credit = Credit note { $number }
cost_paid = Paid ({ $means })
cost_refunded = Refunded ({ $means })
cost_due = Still to pay
cost_owed_back = The shop owes you
cost_withdrawn = Approved, version { $version }, later withdrawn
credit_title = Credit note { $number } on invoice { $invoice }, { $when }
credit_reason = Reason: { $reason }
local_day = { $order ->
    [day_month_year] { $day } { $month } { $year }
   *[other] { $month } { $day }, { $year }
  }
report_approval_number_called = Number called: { $number }
report_approval_called_by = Called by { $name }
report_approval_conditions = On condition: “{ $conditions }”
report_approval_declined = Declined: { $description }
report_approval_deferred = Put off: { $description }
report_approval_withdrawn = Withdrawn { $channel }, { $when }
calendar_title = Program the module: { $vehicle } (job { $number })
calendar_alarm = Hook up the interface and the battery maintainer { $minutes } minutes before.
programming_checks = Made sure of beforehand: { $checks }
programming_voltages = Supply logged { $count } times, from { $lowest } to { $highest } V.
programming_window = The maker’s window, as typed in: { $lowest } to { $highest } V; below it: { $below }.
programming_decided_plain = { $when }: { $route }
programming_reported_plain = { $when }: { $outcome }
programming_attempt_plain = { $when }, attempt { $number }: { $outcome }

report_drawing_alt = Drawing of { $circuit } with its readings. { $readings }
report_course_together = All readings together
