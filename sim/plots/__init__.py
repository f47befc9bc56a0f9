"""Pictures for staff: one module a picture, each with `draw(frame, axis)` and `size(frame)`, and `page` to save them.

The only place that imports matplotlib.  Every picture is drawn from one tidy frame that holds all that is in it; the frames
of our answers are made in `frames`, the sentences above them in `sim.words.picture_words`.
"""
