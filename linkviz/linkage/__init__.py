"""Kinematics of a five-link axle: closed form, full bushing solve, and what is read off a pose.

`layout` and `pose` are the values, `equations` is generated from `derive`, `closed_form` draws and seeds,
`solve` finds the pose of least bushing energy, `measures` turns poses into the trade's numbers.
THEORY.md beside this file derives it all.
"""
