"""The job book: what belongs to a customer's job, its file, its lock, and the list of all jobs in a folder.

`model` says what a job is, `read`, `write` and `migrate` are its file, `recover` takes what is left of a damaged
one, `lock` keeps two people from writing one job, `shelf` lists a folder, `compare` lays two jobs side by side.
"""
