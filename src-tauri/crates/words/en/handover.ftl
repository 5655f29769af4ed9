### Proof of the fix, hand-over, report and packet.

proof_why = The reading that failed, repeated at the same points in the same state.
proof_before = Before
proof_after = After
proof_pick_before = The reading that failed
proof_pick_after = The same reading after the repair
proof_photo = Photo of the repair
proof_note = Road test, codes cleared and read again
proof_keep = Save this pair
proof_few = You need two readings: one from before the repair, one from after.
hand_over_warranty = Warranty terms
hand_over_old_parts = What happened to the old parts
hand_over_photo = Photo at delivery
hand_over_keep = Save the delivery
hand_over_done = Delivered { $time }
report_title = Findings report
report_why = One page in plain words, then every reading with its photo and hash.
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
work_verify = Checking
verify_good = Everything checks out
verify_bad = Rejected
verify_counts = { $records ->
    [one] { $records } record
   *[other] { $records } records
} and { $photos ->
    [one] { $photos } photo
   *[other] { $photos } photos
} checked
verify_proven = Proven
verify_not_proven = Not proven by this check
verify_key = Signed by the key with this fingerprint. Compare it with the one handed over at approval:
proven_clock = The device’s clock ran without jumping
proven_fork = There is no second history of this log
proven_container = The file is exactly as it was written
proven_manifest = Every file matches the file list
proven_signature = Signed by the key named here
proven_timestamp = It existed by the time of its timestamp
proven_chain = No record was changed, added or removed since it was sealed
proven_other_logs = It matches what the job’s other devices had seen
proven_photo = Every photo matches its record
proven_redaction = Each masked photo is the one its record names, and the original stays sealed
proven_stripped = Each clean copy is the one its record names, and the original stays sealed
proven_report = The report is the one in the records
proven_disclosure = Every name and text shown matches its record
proven_key = The key is the one you entered
proven_tail = Nothing was cut off since the checkpoint you entered
proven_texts = The included help texts are known ones
open_truth = That it is true: a seal says nothing about how well someone measured
open_timestamp = The time: it comes from this phone’s own clock
open_key = Whose key it is: a key that comes only with the packet proves nothing
open_tail = That nothing was cut off at the end: compare with the checkpoint handed over at approval
open_other_logs = What the job’s other devices hold
open_photo = Photos that are not in the packet
open_redaction = That nothing besides the masked areas was changed in a masked photo
open_stripped = That a clean copy has the pixels of its original: compare the two where the original is
open_photo_missing = Photos the shop says it no longer has
open_report = The report
open_disclosure = What was left out of the packet
open_texts = The included script: a convenience, never evidence
open_container = The file as a whole
open_manifest = The file list
open_signature = The signature
open_chain = The chain of records
