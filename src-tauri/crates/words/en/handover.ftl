### Proof of the fix, hand-over, report and packet.

proof_why = The reading that failed, repeated at the same points in the same state.
proof_before = Before
proof_after = After
proof_pick_before = The reading that failed
proof_pick_after = The same reading after the repair
proof_photo = Photo of the repair
proof_note = Road test, codes cleared and read again
proof_keep = Save this pair
proof_repeat = Measure this again
proof_repeated = Measured again: compare the two
proof_repeat_now = Measure it again
proof_few = You need two readings: one from before the repair, one from after.
hand_over_warranty = Warranty terms
hand_over_months = Warranty, months from today
hand_over_distance = Warranty, { $unit }
hand_over_odometer = Odometer now, { $unit }
hand_over_until = Until { $day }
hand_over_until_odometer = Until { $odometer } { $unit }
hand_over_old_parts = What happened to the old parts
hand_over_photo = Photo at delivery
hand_over_keep = Save the delivery
hand_over_done = Delivered { $time }
report_title = Reports and statements
report_write = Make the report
report_language = Report language
packet_title = Packet
packet_why = Everything about this job in one file that anyone can check without us.
packet_write = Make the packet
packet_check = Check it again
file_where = Location
file_size = { $kilobytes } KB
work_running = { $what }: { $done } of { $total }
work_cancel = Stop
work_unexpected = Working
work_report = Making the report
work_packet = Making the packet
work_originals = Reading the photos
work_pictures = Making small pictures
work_typesetting = Setting the pages
work_verify = Checking
verify_counts = { $records ->
    [one] { $records } record
   *[other] { $records } records
} and { $photos ->
    [one] { $photos } photo
   *[other] { $photos } photos
} checked
verify_proven = Proven
verify_not_proven = Not proven by this check
verify_strange = Strange, and left as it is
verify_key = Signed by the key with this fingerprint. Compare it with the one handed over at approval:
