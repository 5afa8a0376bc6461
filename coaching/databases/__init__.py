"""Databases that hold what they acknowledge: each connection is asked how it writes, and refused if that loses commits.

The two folders are database backends; the framework wants a `base` module in each.
"""
