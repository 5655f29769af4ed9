### Words every screen uses.

app = Testimeter
back = Back
hand_zone = Within reach of your thumb
keeping = Saving…
kept_at = saved { $time }
not_taken = Not accepted:
for_the_log = For the log
from_files = From files
photo = Take photo
photo_of = { $purpose }, saved { $time }
no_preview = Saved. There is no preview for this type of picture.
signature_box = Box to sign in with a finger
sign_again = Sign again
loading = Loading…
none = none
yes = yes
no = no
unknown = unknown
change = Edit
done = Done
remove = Remove
optional = optional
maker_first = { caution_comes_first }
check_rules = Check your local rules.
unchanged_not_true = “Unchanged since this key sealed it” can be proven. “True” can’t: a seal says nothing about how well someone measured.

purpose_arrival = Vehicle as it arrived
purpose_identity = VIN label or odometer
purpose_pin_out = Connector or wire
purpose_reading = Meter
purpose_part = Part or receipt
purpose_programming = Programming
purpose_repair = Repair or delivery

doubt_contradiction = These readings can’t both be right.
doubt_no_cause_fits_all = No single cause fits all the readings.
doubt_not_in_this_circuit = No cause in this circuit can produce this reading.
doubt_not_weighed = This reading can’t be used; the diagnosis goes on without it.
doubt_clock_jumped = The clock was changed while the device was running.
doubt_clock_set_back = The clock was set back from the entry before.
doubt_capture_time_far_from_clock = The camera’s time and the device’s clock are more than a minute apart.
doubt_capture_time_in_future = The camera’s time is later than the time the photo was saved.
doubt_no_capture_time = The photo carries no time of its own.
doubt_repeat = Repeat reading { $number }.
doubt_about = Readings { $numbers }.

likelihood_almost_certain = almost certain
likelihood_very_likely = very likely
likelihood_likely = likely
likelihood_about_as_likely_as_not = about 50/50
likelihood_unlikely = unlikely
likelihood_very_unlikely = very unlikely
likelihood_practically_ruled_out = practically ruled out
record_kept_at = on record, { $time }
draft_saved = draft saved
