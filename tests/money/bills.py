"""Totals of bills by Python's decimal module: one JSON list a line in, `tax total` in cents a line out.

A bill is [rate in thousandths of a per cent, "invoice" or "line", [[thousandths, price in cents, taxed], ...]]. Amounts
are rounded half away from zero (ROUND_HALF_UP is that); tax is carried to the third decimal and goes up from five there
(R.I. Gen. Laws 44-18.1-25(A)).
"""

import json
import sys
from decimal import ROUND_DOWN, ROUND_HALF_UP, Decimal, getcontext

getcontext().prec = 60
CENT, THIRD = Decimal("0.01"), Decimal("0.001")


def amount(line):
    thousandths, price, _ = line
    exact = Decimal(thousandths) / 1000 * (Decimal(price) / 100)
    return exact.quantize(CENT, ROUND_HALF_UP)


def tax(taxable, rate):
    exact = taxable * Decimal(rate) / 100000
    return exact.quantize(THIRD, ROUND_DOWN).quantize(CENT, ROUND_HALF_UP)


for text in sys.stdin:
    rate, basis, lines = json.loads(text)
    amounts = [amount(line) for line in lines]
    taxed = [amount for amount, line in zip(amounts, lines) if line[2]]
    due = tax(sum(taxed, Decimal(0)), rate) if basis == "invoice" else sum((tax(one, rate) for one in taxed), Decimal(0))
    total = sum(amounts, Decimal(0)) + due
    print(int(due * 100), int(total * 100))
