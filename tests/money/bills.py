"""Totals of bills by Python's decimal module: one JSON list a line in, `tax total` in cents a line out.

A bill is [rate in thousandths of a per cent, "invoice", "line" or "included", [[thousandths, price in cents, taxed], ...]]. Amounts
are rounded half away from zero (ROUND_HALF_UP is that); tax is carried to the third decimal and goes up from five there
(R.I. Gen. Laws 44-18.1-25(A)). Tax that is in the prices is gross x rate / (100 + rate), line by line: HM Revenue and
Customs' "VAT fraction", a sixth at 20 %.
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


def rounded(exact):
    return exact.quantize(THIRD, ROUND_DOWN).quantize(CENT, ROUND_HALF_UP)


def tax(taxable, rate):
    return rounded(taxable * Decimal(rate) / 100000)


def tax_inside(paid, rate):
    percent = Decimal(rate) / 1000
    return rounded(paid - paid / (1 + percent / 100)) if percent else Decimal(0)


for text in sys.stdin:
    rate, basis, lines = json.loads(text)
    amounts = [amount(line) for line in lines]
    taxed = [amount for amount, line in zip(amounts, lines) if line[2]]
    if basis == "included":
        due = sum((tax_inside(one, rate) for one in taxed), Decimal(0))
        print(int(due * 100), int(sum(amounts, Decimal(0)) * 100))
        continue
    due = tax(sum(taxed, Decimal(0)), rate) if basis == "invoice" else sum((tax(one, rate) for one in taxed), Decimal(0))
    total = sum(amounts, Decimal(0)) + due
    print(int(due * 100), int(total * 100))
