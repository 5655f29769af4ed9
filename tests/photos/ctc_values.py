"""Writes ctc_values.json: random scores, strings, and what PyTorch's CTC loss says of them (PyPI `torch`)."""

import json
import random

import torch

LETTERS = "0123456789.-Lx?u"
random.seed(46)
cases = []
for places, string in [(48, "12.34"), (48, "-0.001"), (20, "1122"), (12, ""), (12, "0L"), (9, "8888"), (30, "11.1.1xx?u")]:
    # The right string is made likely in some cases, so that sums over many alignments matter.
    raw = [[round(random.gauss(0, 1.5), 3) for _ in range(17)] for _ in range(places)]
    for at, letter in enumerate(string):
        raw[at * places // max(1, len(string))][LETTERS.index(letter) + 1] += random.choice([0.0, 6.0])
    scores = torch.tensor(raw, dtype=torch.float64)
    logs = scores.log_softmax(-1)[:, None]
    target = torch.tensor([[LETTERS.index(letter) + 1 for letter in string]], dtype=torch.long)
    loss = torch.nn.functional.ctc_loss(logs, target, (places,), (len(string),), blank=0, reduction="none")
    cases.append({"raw": scores.flatten().tolist(), "string": string, "log_probability": -loss.item()})
json.dump(cases, open("ctc_values.json", "w"), separators=(",", ":"))
