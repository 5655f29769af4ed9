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
    [accuracy_percent] Accuracy, percent of the reading: “{ $value }” isn’t a number that fits.
    [volts_input_megohms] Input resistance: “{ $value }” isn’t a number of megohms that fits.
    [low_impedance_kilohms] Low-impedance resistance: “{ $value }” isn’t a number of kilohms that fits.
    [photo] A photo used here isn’t in this job.
    [signature] The signature can’t be read.
   *[other] { $what }: “{ $value }” isn’t one of the choices.
}
remedy_unknown_choice = { $code ->
    [odometer] Enter it without letters or a minus sign.
    [amount] Enter the amount without a minus sign.
    [photo] Take the photo again.
    [signature] Have the customer sign again.
   *[other] Correct it, then save again. Nothing you entered is lost.
}
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
error_authority_address = This isn’t the address of a timestamp authority.
remedy_authority_address = Enter it with https:// or http:// in front and without spaces.
error_authority_unreachable = The authority didn’t answer.
remedy_authority_unreachable = Check the network and the address. It tries again later.
error_authority_root = There is no readable certificate in this text.
remedy_authority_root = Paste the authority’s root certificate as text (PEM).
error_timestamp_refused = The timestamp isn’t valid.
remedy_timestamp_refused = Nothing was saved. Try again, or choose another authority.
error_key_locked = The key is locked with its passphrase.
remedy_key_locked = Unlock it under Settings, This phone’s key.
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
error_odometer_digits = Odometer: digits only.
remedy_odometer_digits = “{ $value }” can’t be read. Enter just the digits on the dash, nine at most.
error_proof_not_a_pair = A proof is a pair of readings.
remedy_proof_not_a_pair = Pick the reading that failed and the one after the repair.
