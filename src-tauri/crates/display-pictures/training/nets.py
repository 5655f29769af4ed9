"""The two networks: convolutions, batch normalization, rectifiers, and nothing else.

`Recognizer` reads a straightened cut (192 x 48) and gives, for each of 48 places from left to right, scores of 17 classes
(the blank of connectionist temporal classification, then the letters of sample.rs). `Locator` looks at 320 x 320 pixels
and gives, for each of 40 x 40 places, a score of lying in the cells of the main row and the row's four corners beside
the place in units of 64 pixels.
"""

import torch
from torch import nn
from torch.nn import functional

CLASSES = 17


def step(come, go, size=3, stride=1, dilation=1):
    size = (size, size) if isinstance(size, int) else size
    pad = (size[0] // 2 * dilation, size[1] // 2 * dilation)
    return nn.Sequential(
        nn.Conv2d(come, go, size, stride, pad, dilation, bias=False), nn.BatchNorm2d(go), nn.ReLU(inplace=True)
    )


class Again(nn.Module):
    """Adds what two convolutions found to what came in."""

    def __init__(self, wide, size=3, dilation=1):
        super().__init__()
        self.inner = nn.Sequential(step(wide, wide, size, 1, dilation), step(wide, wide, size, 1, dilation)[:2])

    def forward(self, x):
        return functional.relu(x + self.inner(x))


class Recognizer(nn.Module):
    def __init__(self):
        super().__init__()
        self.body = nn.Sequential(
            step(3, 24, 3, 2),  # 24 x 96
            step(24, 40),
            step(40, 64, 3, 2),  # 12 x 48
            Again(64),
            step(64, 88, 3, (2, 1)),  # 6 x 48
            step(88, 88),
            step(88, 124, 3, (2, 1)),  # 3 x 48
            step(124, 124),
        )
        self.fold = nn.Sequential(nn.Conv2d(124, 128, (3, 1), bias=False), nn.BatchNorm2d(128), nn.ReLU(inplace=True))
        self.along = nn.Sequential(Again(128, (1, 5)), nn.Dropout(0.1), nn.Conv2d(128, CLASSES, 1))

    def forward(self, x):
        return self.along(self.fold(self.body(x))).squeeze(2).permute(0, 2, 1)


class Locator(nn.Module):
    def __init__(self):
        super().__init__()
        self.one = nn.Sequential(step(3, 16, 3, 2), step(16, 24, 3, 2), step(24, 24))  # 80
        self.two = nn.Sequential(step(24, 56, 3, 2), Again(56))  # 40
        self.three = nn.Sequential(step(56, 80, 3, 2), step(80, 80))  # 20
        self.four = nn.Sequential(step(80, 112, 3, 2), step(112, 112, 3, 1, 2), step(112, 112))  # 10
        self.down_four = step(112, 80, 1)
        self.mix_three = step(80, 56)
        self.mix_two = step(56, 64)
        self.last = nn.Sequential(step(64, 64, 1), nn.Conv2d(64, 9, 1))

    def forward(self, x):
        two = self.two(self.one(x))
        three = self.three(two)
        four = self.four(three)
        up = functional.interpolate(self.down_four(four), scale_factor=2, mode="nearest")
        three = self.mix_three(three + up)
        up = functional.interpolate(three, scale_factor=2, mode="nearest")
        return self.last(self.mix_two(two + up))


def weights(net):
    return sum(p.numel() for p in net.parameters())


def folded(net):
    """The same network with batch normalization folded into the convolutions before it."""
    import copy

    net = copy.deepcopy(net).eval()
    for module in list(net.modules()):
        if isinstance(module, nn.Sequential):
            names = list(module._modules)
            for first, second in zip(names, names[1:]):
                conv, norm = module._modules[first], module._modules[second]
                if isinstance(conv, nn.Conv2d) and isinstance(norm, nn.BatchNorm2d):
                    module._modules[first] = torch.nn.utils.fuse_conv_bn_eval(conv, norm)
                    module._modules[second] = nn.Identity()
    return net


if __name__ == "__main__":
    print("recognizer", weights(Recognizer()), "locator", weights(Locator()))
