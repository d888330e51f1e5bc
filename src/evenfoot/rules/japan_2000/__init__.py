"""Formulas of Japanese timber practice.

The Enforcement Order of the Building Standard Law, notices 1452 and 1459 of 2000 and 1024 of 2001, and the standard for
structural design of timber structures of the Architectural Institute of Japan (here: AIJ timber design standard).
"""
