"""Writes a trained network as ONNX: python3 export.py FOLDER WITH lines.pt AND looks.pt, TARGET FOLDER."""

import sys

import torch

import nets

for kind, net, shape, name in [
    ("lines", nets.Recognizer(), (1, 3, 48, 192), "recognizer"),
    ("looks", nets.Locator(), (1, 3, 320, 320), "locator"),
]:
    net.load_state_dict(torch.load(f"{sys.argv[1]}/{kind}.pt", map_location="cpu")["slow"])
    plain = nets.folded(net.eval())
    trial = torch.randn(shape)
    with torch.no_grad():
        gap = (plain(trial) - net(trial)).abs().max().item()
    assert gap < 1e-3, gap
    path = f"{sys.argv[2]}/{name}.onnx"
    axes = {"cuts": {0: "count"}, "scores": {0: "count"}}
    torch.onnx.export(plain, (trial,), path, input_names=["cuts"], output_names=["scores"], dynamic_axes=axes, opset_version=17, dynamo=False)
    print(path, nets.weights(net), "weights, folded within", gap)
