### Photos that are looked at.

viewer_open = Look at the photo: { $photo }
viewer_close = Close the photo
viewer_place = { $place } of { $count }
viewer_before = Previous photo
viewer_after = Next photo
viewer_larger = Zoom in
viewer_smaller = Zoom out
viewer_full_size = Loading the full-size photo…
viewer_saved = Saved { $time }
viewer_taken = Camera’s time: { $time }
viewer_live = Taken with the app’s own camera
viewer_reading = Reading { $number }
viewer_not_counted = corrected or taken back
viewer_about = About this photo
viewer_size = { $width } × { $height } pixels, { $size }
viewer_fingerprint = Fingerprint (SHA-256)
viewer_unchanged = The original is never changed. Its fingerprint stands in the records.

viewer_compare = Compare before and after

photos_title = Photos
photos_filter = Which photos?
photos_all = All: { $count }
photos_loose = Not in any report or packet: { $count }
photos_none = No photos yet.
photos_none_loose = Every photo is in a report or a packet.
photos_doubts = Doubts: { $count }
photos_step_intake = Check-in
photos_step_readings = Readings and connectors
photos_step_proof = Repair and proof
photos_step_papers = Parts and programming

marks_title = Mark a photo
marks_why = Marks are kept beside the photo and drawn into copies: in reports, and next to the photo in packets. The original stays as it is.
marks_open = Mark it
marks_hide = Hide marks
marks_show = Show marks
marks_tool = What to draw
mark_tool_arrow = Arrow
mark_tool_ellipse = Circle
mark_tool_text = Text
mark_tool_move = Move
marks_tone = Color
mark_tone_cold = Blue: bad
mark_tone_lamp = Yellow: good
mark_tone_ink = Black
marks_text = Text of this mark
marks_text_hint = One line, 60 characters at most. It goes out with the photo.
marks_undo = Undo
marks_remove = Remove
marks_list = Marks as a list
marks_keys = Without a finger: add a mark, then move it with the arrow keys. Hold Alt to move its end, Shift for longer steps. Delete removes it.
marks_add = Add one in the middle
marks_keep = Save the marks
marks_done = The marks are saved. They show in reports and next to the photo in packets.
marks_no_preview = This type of picture can’t be shown here, so it can’t be marked.
