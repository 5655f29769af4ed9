"""Exact inference by pgmpy: reads a discretised case from standard input, writes the posterior of its causes."""

import json
import sys

from pgmpy.factors.discrete import TabularCPD
from pgmpy.inference import VariableElimination
from pgmpy.models import DiscreteBayesianNetwork

case = json.load(sys.stdin)
causes, scales = len(case["priors"]), len(case["scales"])
network = DiscreteBayesianNetwork()
network.add_nodes_from(["cause", "scale"])
tables = [
    TabularCPD("cause", causes, [[p] for p in case["priors"]]),
    TabularCPD("scale", scales, [[p] for p in case["scales"]]),
]
evidence = {}
for i, answer in enumerate(case["answers"]):
    name = f"answer {i}"
    network.add_edge("cause", name)
    tables.append(TabularCPD(name, 2, [[1 - p for p in answer], answer], ["cause"], [causes]))
    evidence[name] = 1
for i, reading in enumerate(case["readings"]):
    name, astray = f"reading {i}", f"mis-probe {i}"
    network.add_edges_from([("cause", name), ("scale", name), (astray, name)])
    epsilon = case["mis_probe"]
    tables.append(TabularCPD(astray, 2, [[1 - epsilon], [epsilon]]))
    # By cause, scale and mis-probe: the chance of exactly what was read, on one scale for all.
    seen = [p for by_scale in reading["aimed"] for aimed in by_scale for p in (aimed, reading["flat"])]
    tables.append(
        TabularCPD(name, 2, [[1 - p for p in seen], seen], ["cause", "scale", astray], [causes, scales, 2])
    )
    evidence[name] = 1
network.add_cpds(*tables)
assert network.check_model()
posterior = VariableElimination(network).query(["cause"], evidence=evidence, show_progress=False)
print(json.dumps(posterior.values.tolist()))
