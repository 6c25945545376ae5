"""The shop's side of the window: the job book, a job's details, new jobs, two jobs side by side.

`desk` holds what can be done and is made with the window; each dialog is loaded when it is first opened.
"""
