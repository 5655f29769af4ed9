### A sentence and a remedy for every code the core sends; `{names}` are values that come with it.

error_unexpected = Something went wrong.
remedy_unexpected = Everything saved is still saved. Try again; if it happens again, write down what it says under “For the log.”
error_already_open = The app is already open with this data.
remedy_already_open = Close the other window, then open this one again.
error_folder_read_only = The data folder can’t be written to.
remedy_folder_read_only = Give the app permission to write there, then restart it. Everything saved is still there.
error_disk_full = Storage is full; this was not saved.
remedy_disk_full = Free up some space, then enter it again. Everything saved earlier is safe.
error_written_by_newer_version = This data was written by a newer version of the app.
remedy_written_by_newer_version = Update the app, then open it again.
error_photo_not_kept = A photo used here isn’t in the app’s storage.
remedy_photo_not_kept = Take the photo again.
error_store_failed = The app’s data could not be read or written.
remedy_store_failed = Restart the app. Everything saved is still saved.
error_photo_empty = This file is empty.
remedy_photo_empty = Take the photo again or choose another file.
error_photo_not_a_picture = This file isn’t a picture.
remedy_photo_not_a_picture = Choose a photo: JPEG, PNG, WebP or HEIC.
error_photo_truncated = The picture is cut off; part of it is missing.
remedy_photo_truncated = Take the photo again, or copy the whole file again.
error_photo_damaged = The picture is damaged.
remedy_photo_damaged = Take the photo again or choose another file.
error_paper_not_read = The paper can’t be read on this device.
remedy_paper_not_read = Enter what it says by hand. The photo is unchanged.
error_amount_unreadable = This isn’t an amount.
remedy_amount_unreadable = Use digits, such as 12.50.
error_amount_ambiguous = This amount could mean two things.
remedy_amount_ambiguous = Include the cents, such as 1234.00 or 1.23.
error_line_without_description = A line doesn’t say what it is for.
remedy_line_without_description = Enter what the customer is paying for on that line.
error_part_without_condition = A part has no condition.
remedy_part_without_condition = Choose new, used or rebuilt.
error_sublet_without_provider = Sublet work doesn’t say who does it.
remedy_sublet_without_provider = Enter who does it: the customer has to see that.
error_money_refused = These amounts don’t add up.
remedy_money_refused = Check quantities, prices and minus signs.
error_reading_not_a_number = A meter doesn’t show a value like that.
remedy_reading_not_a_number = Enter it as displayed, such as 12.4 or OL.
error_reading_out_of_range = No hand-held meter reads that high.
remedy_reading_out_of_range = Check the unit and the decimal point.
error_recording_out_of_order = The lowest value is above the highest.
remedy_recording_out_of_order = Correct one of the two.
error_reading_value_missing = This reading has a lowest and a highest value, but no value of its own.
remedy_reading_value_missing = Enter the value too, or leave only one of the two.
error_photo_shows_other = The photo seems to show { $seen }. You typed { $typed }.
remedy_photo_shows_other = Look at the display again. Keep what you typed, or change it.
error_reading_unit = This unit doesn’t go with the meter’s mode.
remedy_reading_unit = Choose another unit or mode.
error_evidence_unreadable = A sealed record can’t be read.
remedy_evidence_unreadable = Don’t delete anything. Restart the app; if it happens again, use your backup.
error_circuit_refused = The circuit can’t use this.
remedy_circuit_refused = Choose from the list; “For the log” says what was wrong.
error_invoice_over_approved = The invoice is { $over } over the most you may bill: { $allowed } on { $approved } approved.
remedy_invoice_over_approved = Remove lines, or make a new estimate and get it approved first.
error_job_unreadable = This job’s records don’t fit together.
remedy_job_unreadable = Update the app. If that doesn’t help, check the job’s packet or use your backup.
error_vin_refused = This can’t be a VIN.
remedy_vin_refused = Compare it with the label, character by character.
error_vin_forbidden_letter = A VIN never has I, O or Q.
remedy_vin_forbidden_letter = They look like 1, 0 and 9: check the label again.
error_vin_forbidden_character = A VIN has only letters and digits.
remedy_vin_forbidden_character = Check the label again.
error_vin_length = A VIN has 17 characters.
remedy_vin_length = Compare it with the label again.
error_vin_check_digit = The check digit in position 9 doesn’t match the rest.
remedy_vin_check_digit = One character was misread. Compare with the label; vehicles not built for North America may not have a check digit.
error_report_failed = The report could not be made.
remedy_report_failed = Try again. Everything saved is still saved.
error_packet_failed = The packet could not be saved.
remedy_packet_failed = Check the free space on the phone, then try again.
error_no_randomness = The phone supplied no random numbers; nothing can be sealed without them.
remedy_no_randomness = Restart the phone.
error_file_failed = A file could not be read or written.
remedy_file_failed = Check that the folder exists and can be written to.
error_unknown_choice = { $code ->
    [odometer] Odometer: digits only.
    [odometer_unit] Odometer units: miles or kilometers only.
    [amount] Price: it can’t be below zero.
    [accuracy_counts] Accuracy, counts of the last digit: a whole number from 0 to 1000.
    [accuracy_percent] Accuracy, percent of the reading: “{ $value }” isn’t a number from 0 to 20.
    [volts_input_megohms] Input resistance: “{ $value }” isn’t a number of megohms from 0.01 to 100,000.
    [low_impedance_kilohms] Low-impedance resistance: “{ $value }” isn’t a number of kilohms from 0.1 to 10,000.
    [photo] A photo used here isn’t in this job.
    [signature] The signature can’t be read.
    [registration] Shop registration number: “{ $value }” has no letter and no digit.
    [invoice_prefix] Invoices begin with: “{ $value }” doesn’t fit: ten letters and digits at most, no spaces or dashes.
    [credit_prefix] Credit notes begin with: “{ $value }” doesn’t fit: ten letters and digits at most, no spaces or dashes.
    [tax_number] Tax number on bills: “{ $value }” has no letter and no digit.
    [warranty_months] Warranty, months: “{ $value }” isn’t a whole number.
    [warranty_distance] Warranty, distance: “{ $value }” isn’t a whole number.
    [keeps_years] Years to keep records: a whole number from 1 to 100.
   *[other] { $what }: “{ $value }” isn’t one of the choices.
}
remedy_unknown_choice = { $code ->
    [odometer] Enter it without letters or a minus sign.
    [amount] Enter the amount without a minus sign.
    [photo] Take the photo again.
    [signature] Have the customer sign again.
    [registration] Enter it as it stands on your registration, or leave it empty.
    [invoice_prefix] Use letters and digits, or leave it empty.
    [credit_prefix] Use letters and digits, or leave it empty.
    [tax_number] Enter it as the tax office wrote it, or leave it empty.
    [warranty_months] Enter digits only, or leave the field empty.
    [warranty_distance] Enter digits only, or leave the field empty.
    [keeps_years] Enter digits only, or leave the field empty.
   *[other] Correct it, then save again. Nothing you entered is lost.
}
error_number_out_of_range = { $value } { $unit } can’t be right here.
remedy_number_out_of_range = Write { $least } to { $most } { $unit }.
error_not_a_number = “{ $value }” isn’t a number.
remedy_not_a_number = Write a number such as 1.5.
error_no_color = “{ $value }” isn’t a wire color.
remedy_no_color = Write two letters for each color: BU, or BUYE for blue with a yellow stripe.
error_words_refused = This text can’t stand in a circuit.
remedy_words_refused = Write it shorter, and type it instead of pasting it.
error_field_empty = Still empty: { $field }.
remedy_field_empty = Fill it in.
error_field_too_long = Too long: { $field }, at most { $limit } characters.
remedy_field_too_long = Shorten it.
error_not_set_up = The shop isn’t set up yet.
remedy_not_set_up = Finish Setup first.
error_cancelled = Stopped.
remedy_cancelled = Nothing was changed.
error_unreadable = The app did not understand its own screen.
remedy_unreadable = Restart the app. Everything saved is still saved.
error_choose_circuit_first = No circuit is chosen.
remedy_choose_circuit_first = Choose the circuit first.
error_choose_meter_first = No meter is chosen.
remedy_choose_meter_first = Choose the meter first: its specs limit what a reading can prove.
error_no_reading_yet = There are no readings yet.
remedy_no_reading_yet = Take one first.
error_module_not_proven = The module is not proven bad.
remedy_module_not_proven = See what is still missing under the module’s name in Diagnosis, or choose “Not proven yet.”
error_cause_not_proven = This cause isn’t likely enough to be called.
remedy_cause_not_proven = Take the next test, or choose “Not proven yet.”
error_no_estimate = There is no estimate.
remedy_no_estimate = Save a version of the estimate first.
error_already_approved = The latest version is already approved.
remedy_already_approved = For more work, save a new version and get it approved.
error_not_the_latest_version = This is not the latest version.
remedy_not_the_latest_version = Show the customer the latest version and get that one approved.
error_no_signature = The signature is missing.
remedy_no_signature = Have the customer sign with a finger, or choose another way than “In person.”
error_nothing_approved = Nothing is approved.
remedy_nothing_approved = Get the estimate approved first.
error_no_finding = There is no finding.
remedy_no_finding = Save a finding first.
error_no_programming_decision = No programming option is chosen.
remedy_no_programming_decision = Choose who programs it first.
error_no_reading_after_repair = There is no reading taken after the repair.
remedy_no_reading_after_repair = Repeat the reading that failed, at the same points in the same state.
error_not_the_same_test = These two readings are not the same test.
remedy_not_the_same_test = Choose two with the same points, mode and state.
error_proof_in_wrong_order = One has to be from before the repair and the other from after it.
remedy_proof_in_wrong_order = Choose the failing reading as “Before.”
error_no_invoice = There is no invoice.
remedy_no_invoice = Save the invoice first.
error_no_lines = There are no lines.
remedy_no_lines = Add at least one line.
error_no_receipt_photo = The photo of the receipt is missing.
remedy_no_receipt_photo = Take it first.
error_already_corrected = This reading has already been corrected.
remedy_already_corrected = Correct the newer one.
error_attempt_already_corrected = This attempt has already been corrected.
remedy_attempt_already_corrected = Correct the newer one.
error_no_covered_copy = That isn’t possible: this photo has no masked copy.
remedy_no_covered_copy = Mask it first, or choose the original or none.
error_cannot_strip = A clean copy can’t be made of this type of picture here.
remedy_cannot_strip = Send the original, or keep it here.
error_photo_forgotten = This very photo was destroyed when a customer’s data was deleted. It can’t be saved again.
remedy_photo_forgotten = Take a new photo.
error_original_damaged = The photo on this device is damaged: it is no longer the file that was sealed.
remedy_original_damaged = If you have the file somewhere else, add it to the job again. Otherwise take a new photo.
error_no_area_marked = No area of the photo is marked.
remedy_no_area_marked = Draw a rectangle over what must not be seen.
error_too_many_marks = There are more marks on this photo than fit: 40 at most.
remedy_too_many_marks = Remove some, then save.
error_mark_without_text = One of the text marks has no text.
remedy_mark_without_text = Type its text, or remove it.
error_mark_text_too_long = The text of a mark is longer than one line: 60 characters at most.
remedy_mark_text_too_long = Make it shorter. Longer words belong in the note of the reading.
error_mark_off_picture = A mark lies outside the photo or has no size.
remedy_mark_off_picture = Move it onto the photo, or remove it.
error_marks_unchanged = These marks are on record already.
remedy_marks_unchanged = Nothing needs to be saved.
error_authority_address = This isn’t the address of a timestamp authority.
remedy_authority_address = Enter it with https:// or http:// in front and without spaces.
error_authority_unreachable = The authority didn’t answer.
remedy_authority_unreachable = Check the network and the address. It tries again later.
error_authority_root = There is no readable certificate in this text.
remedy_authority_root = Paste the authority’s root certificate as text (PEM).
error_timestamp_refused = The timestamp isn’t valid.
remedy_timestamp_refused = Nothing was saved. Try again, or choose another authority.
error_key_locked = The key is locked with its passphrase.
remedy_key_locked = What you entered stays in its form. Unlock the key on the first screen, then save it again.
error_wrong_passphrase = That passphrase is wrong.
remedy_wrong_passphrase = Enter it again. Capital letters and spaces count.
error_key_unreadable = The key file can’t be read.
remedy_key_unreadable = Restore a backup, or continue with a new key under Settings, This phone’s key.
error_not_a_backup = This file isn’t a Testimeter backup.
remedy_not_a_backup = Choose a file that ends in .tar.age.
error_backup_damaged = The backup is damaged. Nothing was restored.
remedy_backup_damaged = Check what can be read of it, and use another copy.
error_folder_not_empty = The folder isn’t empty.
remedy_folder_not_empty = Choose or create an empty folder.
error_files_busy = A backup or an export is running.
remedy_files_busy = Wait until it is done, or stop it.
error_job_moved = This job moved on while the form was open.
remedy_job_moved = Nothing you typed is lost. Look at what is new, then save again.
error_records_not_vouched = This job has records that nobody signed.
remedy_records_not_vouched = Look at them on the timeline, then take them in. Until then nothing can be added or handed out.
error_record_not_signed = The signature on this record is by no key known here.
remedy_record_not_signed = Nothing was saved. Restart the app and try again.
error_nothing_to_take_in = Every record of this job is signed already.
remedy_nothing_to_take_in = Nothing to do.
error_log_forked = Two different records claim the same place in this log.
remedy_log_forked = Nothing was overwritten. Keep both copies and find out who wrote the other one.
error_key_is_lost = This device’s key is gone.
remedy_key_is_lost = Restore a backup, or continue with a new key under Settings, This phone’s key. Every verdict will show the break.
error_key_not_lost = The key isn’t lost: it is where it should be.
remedy_key_not_lost = Change it instead. The old key then signs for the new one.
error_passphrase_too_short = The passphrase is too short.
remedy_passphrase_too_short = Use at least { $least } characters. Several unrelated words work well.
error_already_set_up = A shop is already set up on this device.
remedy_already_set_up = Restore a backup on a new device, or after removing this one’s data.
error_nothing_to_forget = There is nothing left to destroy now.
remedy_nothing_to_forget = The rest is kept as long as repair records must be kept.

error_control_supply_unusual = The supply voltage is outside 5 to 20 V.
remedy_control_supply_unusual = Check it. If it is right, confirm it here, then save again.
error_finding_nothing_picked = Nothing is picked.
remedy_finding_nothing_picked = Pick what you call the cause, or “Not proven yet.”
error_signature_too_short = This is too short to be a signature.
remedy_signature_too_short = Tap “Sign again” and have the customer sign with a finger.
error_value_refused = This can’t stand in a record: { $field }.
remedy_value_refused = Correct it, then save again. “For the log” says why.
error_setting_unreadable = A setting can’t be read: { $name }.
remedy_setting_unreadable = Enter it again, or restore a backup.
error_log_damaged = A log of records is damaged.
remedy_log_damaged = Don’t delete anything. Use your backup for what can’t be read.
error_amount_below_zero = This amount may not be below zero.
remedy_amount_below_zero = Write it without a minus sign. What is taken off is a discount or a core credit.
error_amount_over_limit = This amount is over 10,000,000.00.
remedy_amount_over_limit = Check the digits and the decimal point.
error_deduction_above_zero = A discount or credit has to be below zero.
remedy_deduction_above_zero = Put a minus sign in front of its price.
error_total_below_zero = The total would be below zero.
remedy_total_below_zero = Lower the discount or the credit.
error_not_a_time = This is not a date and time: { $field }.
remedy_not_a_time = Pick the date and time, or leave it empty.
error_phone_form = This is not a phone number.
remedy_phone_form = “{ $value }” stays here as you typed it. A phone number has 7 to 15 digits, and an extension if needed: 512 555 0142 x12.
error_email_form = This is not an email address.
remedy_email_form = “{ $value }” stays here as you typed it. An address looks like name@example.com.
error_fault_code_form = This is not a fault code.
remedy_fault_code_form = “{ $value }” can’t be one. A code is P, B, C or U, a digit from 0 to 3, then three digits or letters A to F; after that two more for a failure type: P0301, U0100-87.
error_fault_code_twice = { $value } is on the list already.
remedy_fault_code_twice = The same code of the same module with the same status is kept once.
error_fault_codes_too_many = There are too many fault codes.
remedy_fault_codes_too_many = A check-in holds { $most } codes. Take some off the list.
error_odometer_digits = Odometer: digits only.
remedy_odometer_digits = “{ $value }” can’t be read. Enter just the digits on the dash, nine at most.
error_proof_not_a_pair = A proof is a pair of readings.
remedy_proof_not_a_pair = Pick the reading that failed and the one after the repair.
error_bill_not_estimated = “{ $description }” isn’t on the approved estimate.
remedy_bill_not_estimated = Put it on a new version and get that approved, or take the line off. If only the wording changed, use the approved words.
error_bill_declined = The customer declined “{ $description }.”
remedy_bill_declined = Take the line off, or ask again and save the new answer.
error_bill_deferred = The customer put off “{ $description }.”
remedy_bill_deferred = Take the line off, or ask again and save the new answer.
error_bill_condition = “{ $description }” was approved as another condition (new, used, rebuilt).
remedy_bill_condition = Set it as approved, or get a new version approved with the part you fitted.
error_bill_part_number = “{ $description }” was approved with part number { $was }, not { $now }.
remedy_bill_part_number = Correct the number, or get a new version approved with this part.
error_bill_provider = “{ $description }” was approved to be done by { $was }, not { $now }.
remedy_bill_provider = Correct the name, or tell the customer who did it and get that approved.
error_bill_taxed = “{ $description }” was approved without tax.
remedy_bill_taxed = Take the tax off this line, or get a new version approved with it.
error_bill_quantity = “{ $description }”: { $was } approved, { $now } billed.
remedy_bill_quantity = Lower it, or get a new version approved with the higher quantity.
error_bill_price = “{ $description }” was approved at { $approved } each.
remedy_bill_price = Lower the price, or get a new version approved with this one. Money can’t move from one line to another.
error_bill_before = “{ $description }” was already billed.
remedy_bill_before = Take the line off, or lower it to what is left.
error_invoice_number_taken = That number is already used.
remedy_invoice_number_taken = Try again: the next free number is taken.
error_approval_over_estimate = { $field }: { $asked } is more than the { $total } that the approved lines come to.
remedy_approval_over_estimate = Leave the limit empty, or make it lower.
error_approval_of_nothing = An approval up to 0 approves nothing.
remedy_approval_of_nothing = Enter a limit above 0, or mark every line as declined.
error_answers_incomplete = Not every line has an answer.
remedy_answers_incomplete = Mark each line as approved, declined or put off.
error_no_message_kept = The customer’s message is missing.
remedy_no_message_kept = Enter its words, or add a photo of it.
error_message_too_long = The message is too long to send.
remedy_message_too_long = Shorten it to { $letters } characters.
error_signer_not_named = { $name } wasn’t named at check-in as somebody who may approve.
remedy_signer_not_named = If that’s right anyway, flip the switch and save again. Otherwise correct the name.
error_already_billed = This approval is already billed.
remedy_already_billed = Write a credit note for the invoice first.
error_not_in_force = That approval is no longer the current one.
remedy_not_in_force = Look at the approvals again.
error_handed_over_already = The vehicle was already delivered.
remedy_handed_over_already = Correct the bill with a credit note, or open a new job for new work.
error_credit_not_billed = “{ $description }”: more is credited than was billed.
remedy_credit_not_billed = Lower the quantity, or choose another line.
error_credit_over_invoice = { $asked } is more than the { $most } left of this invoice.
remedy_credit_over_invoice = Lower the quantities.
error_credit_tax_differs = The tax isn’t the invoice’s.
remedy_credit_tax_differs = Make the credit note from the invoice’s own lines.
error_deposit_over_approved = { $asked } is more than the { $most } still open of what was approved.
remedy_deposit_over_approved = Lower the deposit, or get more approved first.
error_payment_over_due = { $asked } is more than the { $most } that is due.
remedy_payment_over_due = Enter what was paid for this job. Write an invoice first if more is owed.
error_refund_over_paid = { $asked } is more than the { $most } you can give back.
remedy_refund_over_paid = Lower it. For money back on a bill, write its credit note first.
error_not_a_day = That isn’t a day.
remedy_not_a_day = Enter year, month and day, such as 2026-11-28.
error_day_in_future = That day hasn’t come yet.
remedy_day_in_future = Enter the day on which it happened.
error_day_before_job = That day is before this job was opened ({ $opened }).
remedy_day_before_job = Check the day.
error_supplies_not_allowed = Line { $line }: a line for shop supplies isn’t allowed by the rules of this region.
remedy_supplies_not_allowed = List what was used as parts, each with its price, or take the line out. Check your local rules.
error_too_many_pinned = Forty lines are at hand already.
remedy_too_many_pinned = Let one of them go first.
error_prefixes_alike = Invoices and credit notes would begin alike.
remedy_prefixes_alike = Choose another beginning for one of them.
error_approval_before_estimate = The answer would be older than version { $version } of the estimate, which was saved { $moment }.
remedy_approval_before_estimate = Correct the day and time of the answer, or leave them empty for now.
error_time_in_future = { $field }: this is still to come.
remedy_time_in_future = Enter when it was, or leave it empty for now.
error_estimate_not_written = The rules of this region want the estimate in writing before the first yes by phone.
remedy_estimate_not_written = Send it as a text message or an email, or give it on paper, and save that you did; or have it signed in person. Check your local rules.
error_estimate_not_written_or_waived = The rules of this region want the estimate in writing before the first yes by phone, unless the customer waives it.
remedy_estimate_not_written_or_waived = Send it as a text message or an email, or give it on paper, and save that you did; have it signed in person; or have the customer waive it in writing. Check your local rules.
error_estimate_expired = Version { $version } of the estimate held until { $until }.
remedy_estimate_expired = Save a new version, with the same lines if they still hold, and ask again. Holidays aren’t counted here: check your local rules.
error_waiver_not_written = A waiver by phone is none: it has to be in writing.
remedy_waiver_not_written = Have it signed in person, or sent as a text message or an email.
error_no_waiver_here = The rules known of this region have no waiver of the written estimate.
remedy_no_waiver_here = Give the customer the estimate in writing. Check your local rules.
error_already_waived = The written estimate was waived already.
remedy_already_waived = Look at the waiver on this screen.
error_invoice_was_replaced = Another invoice took the place of this one: it counts no longer.
remedy_invoice_was_replaced = Credit the invoice that took its place.
error_no_seller_number = Your shop’s { $number ->
    [vat] VAT number
    [gst_hst] GST/HST number
    [nif] NIF
    [rfc] RFC
   *[none] tax number
} is missing. The rules of this region want it on the bill.
remedy_no_seller_number = Enter it in Settings, under “Shop, labor rate and tax”, then save this again. Check your local rules.
error_bill_tax_differs = The tax isn’t that of the approved estimate.
remedy_bill_tax_differs = Start the bill again from the approved lines.
error_no_registration_number = The shop’s registration number is missing. The rules of this region want it on estimates and bills.
remedy_no_registration_number = Enter it in Settings, under “Shop, labor rate and tax”, then save this again. Check your local rules.
error_provider_not_disclosed = { $provider } programs the module, but no approved estimate names them.
remedy_provider_not_disclosed = Make a new estimate with a sublet line that names { $provider }, and get it approved first. Check your local rules.
error_old_parts_unanswered = It isn’t filled in what happened to the old parts.
remedy_old_parts_unanswered = Enter whether the customer took them, didn’t want them, or they went back as a core. Check your local rules.
error_keeps_years_below_law = The rules of this region want records kept for at least { $years } years.
remedy_keeps_years_below_law = Enter { $years } or more, or leave the field empty.
error_no_appointment = There is no appointment with a date and time yet.
remedy_no_appointment = Pick the date and time, then save the decision.
error_voltage_line = Line { $line } isn’t minutes and volts: “{ $value }”
remedy_voltage_line = Write the minutes since it began, a space, then the volts: 12 13.4
error_sample_broken = The sample job can’t be shown.
remedy_sample_broken = This is a fault of the app: please report it. Your own shop is unharmed.
