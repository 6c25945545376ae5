"""What is open now: document, history, view, subscribers, autosave. No Qt in here.

`document` is what is edited, `view` how it is looked at, `session` holds both and tells subscribers, `edits` and
`outline` are the pure functions behind the mouse, `live` keeps the numbers that belong to the two, `store` is the
state on disk, `motion` the running axle.
"""
