#!/usr/bin/env python3
"""Amounts on whole marks by Python's decimal arithmetic: drawn, cost in %, fills."""
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal

for amount, mark, holds in [
    ("12.7", "0.5", "10"),
    ("0.37", "0.01", "1"),
    ("0.37", "0.2", "5"),
    ("0.33", "0.05", "1"),
    ("137", "1", "60"),
    ("2.34", "0.01", "200"),
    ("0.83", "0.1", "500"),
]:
    a, m, h = Decimal(amount), Decimal(mark), Decimal(holds)
    drawn = (a / m).quantize(Decimal(1), ROUND_HALF_UP) * m
    fills = (drawn / h).quantize(Decimal(1), ROUND_CEILING)
    print(amount, mark, holds, drawn, "%.12g" % ((drawn - a) / a * 100), fills)
