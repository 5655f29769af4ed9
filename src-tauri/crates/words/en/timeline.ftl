### One line for each kind of record, for the command line.

line_approval_kept = Version { $version } approved, up to { $total } ({ $channel })
line_caution_acknowledged = Caution read: { $caution }
line_circuit_chosen = Circuit chosen: { $circuit }
line_estimate_kept = Estimate version { $version }: { $total }
line_finding_kept = Finding: { $outcome } { $cause }
line_fix_proven = Fix proven: { $before } before, { $after } after
line_handed_over = Vehicle delivered
line_intake_kept = Check-in saved: { $fields }
line_invoice_kept = Invoice { $name }: { $total }
line_job_opened = Job { $number } opened
line_meter_chosen = Meter chosen: { $name }
line_part_received = Part received: { $name }, { $total }
line_photo_kept = Photo saved ({ $purpose })
line_pin_noted = Pin { $pin } of { $connector } noted
line_programming_decided = Programming option chosen: { $route }, quoted { $total }
line_programming_reported = Programming: { $outcome }, billed { $total }
line_reading_corrected = Reading { $number } corrects an earlier one: { $shown } · { $test }
line_reading_kept = Reading { $number }: { $shown } · { $test }
line_report_written = Report made: { $name }
line_test_unreachable = Test can’t be reached: { $test }
line_approval_requested = Approval of version { $version } asked for ({ $channel })
line_estimate_waived = Written estimate waived by { $name } ({ $channel })
line_approval_withdrawn = Approval withdrawn ({ $channel })
line_credit_note_kept = Credit note { $name }: { $total }
line_payment_kept = { $way } ({ $means }): { $total }
line_supplier_step_kept = { $name }: { $step } { $total }
