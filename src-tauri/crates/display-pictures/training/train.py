"""Trains one of the two networks on pictures that are invented while it runs.

    python3 train.py lines|looks --generator PATH --out FOLDER [--minutes M] [--workers N] [--from F --to T] [--resume FILE]

`--from` and `--to` say which part of the whole schedule (0 to 1) this run is. Seeds are fixed; how many pictures are
seen in the given minutes depends on the machine. Writes KIND.pt every two minutes and at the end.
"""

import argparse
import copy
import math
import os
import time

import numpy as np
import torch
from torch.nn import functional

import nets
import stream

LETTERS = "\0" + "0123456789.-Lx?u"


def cuts(records, device):
    pixels = torch.from_numpy(records[:, : stream.LINE - 16].copy()).to(device, non_blocking=True)
    x = pixels.view(-1, 48, 192, 3).permute(0, 3, 1, 2).float()
    mean = x.mean((1, 2, 3), keepdim=True)
    spread = x.std((1, 2, 3), keepdim=True, correction=0)
    return (x - mean) / (spread + 6.0)


def letters(records):
    tail = records[:, stream.LINE - 16 :]
    return [row[1 : 1 + row[0]].tolist() for row in tail]


def looks(records, device):
    pixels = torch.from_numpy(records[:, : 320 * 320 * 3].copy()).to(device, non_blocking=True)
    return pixels.view(-1, 320, 320, 3).permute(0, 3, 1, 2).float() / 127.5 - 1.0


def rows(records, device):
    """For each place: whether it lies in a row, that row's corners, and the row's height."""
    count = records[:, 320 * 320 * 3].astype(np.int64)
    corners = records[:, 320 * 320 * 3 + 1 :].copy().view(np.float32).reshape(-1, 2, 4, 2)
    count = torch.from_numpy(count).to(device)
    corners = torch.from_numpy(corners).to(device)
    at = torch.arange(40, device=device) * 8.0 + 4.0
    place = torch.stack(torch.meshgrid(at, at, indexing="ij")[::-1], -1)  # 40, 40, (x, y)
    mask = torch.zeros(len(records), 40, 40, device=device)
    target = torch.zeros(len(records), 8, 40, 40, device=device)
    tall = torch.ones(len(records), 40, 40, device=device)
    for which in (1, 0):
        quad = corners[:, which]
        edge = torch.roll(quad, -1, 1) - quad
        toward = place[None, None] - quad[:, :, None, None]
        cross = edge[:, :, None, None, 0] * toward[..., 1] - edge[:, :, None, None, 1] * toward[..., 0]
        inside = cross / (edge.norm(dim=-1)[:, :, None, None] + 1e-6)
        near = (inside.min(1).values > -4.0) & (count > which)[:, None, None]
        mask = torch.where(near, 1.0, mask)
        wanted = (quad[:, None, None] - place[None, :, :, None]).flatten(3).permute(0, 3, 1, 2) / 64.0
        target = torch.where(near[:, None], wanted, target)
        high = (quad[:, 0] - quad[:, 3]).norm(dim=-1) / 2 + (quad[:, 1] - quad[:, 2]).norm(dim=-1) / 2
        tall = torch.where(near, high[:, None, None].expand_as(tall), tall)
    return mask, target, tall


def line_loss(net, records, device):
    with torch.autocast(device.type, torch.bfloat16, enabled=device.type == "cuda"):
        scores = net(cuts(records, device))
    said = letters(records)
    flat = torch.tensor([letter for row in said for letter in row], dtype=torch.long, device=device)
    lengths = torch.tensor([len(row) for row in said], dtype=torch.long, device=device)
    places = torch.full((len(said),), scores.shape[1], dtype=torch.long, device=device)
    logs = scores.float().log_softmax(-1).transpose(0, 1)
    losses = functional.ctc_loss(logs, flat, places, lengths, reduction="none", zero_infinity=True)
    return losses.mean()


def look_loss(net, records, device):
    with torch.autocast(device.type, torch.bfloat16, enabled=device.type == "cuda"):
        out = net(looks(records, device))
    out = out.float()
    mask, target, tall = rows(records, device)
    cover = functional.binary_cross_entropy_with_logits(out[:, 0], mask, pos_weight=torch.tensor(2.0, device=device))
    miss = (out[:, 1:] - target).abs().mean(1) * 64.0 / tall
    per = (miss.clamp(max=4.0) * mask).sum((1, 2)) / mask.sum((1, 2)).clamp(min=1)
    return cover * 4.0 + per.mean()


@torch.no_grad()
def line_figures(net, records, device):
    right = shown = wrong = 0
    for block in np.array_split(records, max(1, len(records) // 256)):
        share, best = net(cuts(block, device)).float().softmax(-1).max(-1)
        for row, sure, said in zip(best.tolist(), share.min(1).values.tolist(), letters(block)):
            read = [c for at, c in enumerate(row) if c and (at == 0 or row[at - 1] != c)]
            right += read == said
            shown += sure > 0.9
            wrong += sure > 0.9 and read != said
    return f"exact {right / len(records):.4f} sure {shown / len(records):.3f} wrong of sure {wrong / max(1, shown):.4f}"


@torch.no_grad()
def look_figures(net, records, device):
    found = false = close = total = 0
    for block in np.array_split(records, max(1, len(records) // 64)):
        out = net(looks(block, device)).float()
        mask, target, tall = rows(block, device)
        best = out[:, 0].flatten(1).argmax(1)
        sure = out[:, 0].flatten(1).gather(1, best[:, None])[:, 0] > 0
        has = mask.flatten(1).max(1).values > 0
        hit = mask.flatten(1).gather(1, best[:, None])[:, 0] > 0
        miss = (out[:, 1:] - target).abs().flatten(2).gather(2, best[:, None, None].expand(-1, 8, 1))[..., 0]
        worst = miss.max(1).values * 64.0 / tall.flatten(1).gather(1, best[:, None])[:, 0]
        found += (sure & has & hit).sum().item()
        close += (sure & has & hit & (worst < 0.25)).sum().item()
        false += (sure & ~has).sum().item()
        total += has.sum().item()
    return f"found {found / total:.4f} corners within a quarter height {close / total:.4f} false {false} of {len(records) - total}"


def main():
    words = argparse.ArgumentParser()
    words.add_argument("kind", choices=["lines", "looks"])
    words.add_argument("--generator", required=True)
    words.add_argument("--out", required=True)
    words.add_argument("--minutes", type=float, default=16.0)
    words.add_argument("--workers", type=int, default=max(1, (os.cpu_count() or 2) // 2))
    words.add_argument("--from", dest="begin", type=float, default=0.0)
    words.add_argument("--to", dest="end", type=float, default=1.0)
    words.add_argument("--resume")
    words.add_argument("--peak", type=float, default=2e-3)
    words.add_argument("--measured", type=int, default=2000)
    wish = words.parse_args()
    begun = time.time()
    device = torch.device("cuda" if torch.cuda.is_available() else "cpu")
    torch.manual_seed(7)
    torch.backends.cuda.matmul.allow_tf32 = torch.backends.cudnn.allow_tf32 = True
    torch.backends.cudnn.benchmark = True
    lines = wish.kind == "lines"
    net = (nets.Recognizer() if lines else nets.Locator()).to(device).to(memory_format=torch.channels_last)
    slow = copy.deepcopy(net)
    floats = lambda of: [tensor for tensor in of.state_dict().values() if tensor.dtype.is_floating_point]
    best = torch.optim.AdamW(net.parameters(), lr=wish.peak, weight_decay=0.01)
    seed = 1 + int(wish.begin * 1000)
    seen = 0
    if wish.resume:
        kept = torch.load(wish.resume, map_location=device)
        net.load_state_dict(kept["net"]), slow.load_state_dict(kept["slow"]), best.load_state_dict(kept["best"])
        seen = kept["seen"]
    net_floats, slow_floats = floats(net), floats(slow)
    source = stream.Stream(wish.generator, wish.kind, wish.workers, seed + (0 if lines else 500_000), 64 if lines else 8)
    measure = line_figures if lines else look_figures
    loss_of = line_loss if lines else look_loss
    aside = wish.measured if lines else wish.measured // 4
    checks = {
        "learned": stream.held(wish.generator, wish.kind, 990_000_001, aside // 2),
        "held back": stream.held(wish.generator, wish.kind, 990_000_002, aside, "held-back"),
    }
    chunks = 4 if device.type == "cuda" else 1
    name = os.path.join(wish.out, f"{wish.kind}.pt")

    def keep():
        torch.save({"net": net.state_dict(), "slow": slow.state_dict(), "best": best.state_dict(), "seen": seen}, name + ".new")
        os.replace(name + ".new", name)

    def report(sum_, count):
        figures = "; ".join(f"{what}: {measure(slow.eval(), records, device)}" for what, records in checks.items())
        print(f"{wish.kind} {time.time() - begun:.0f} s, {seen} seen, loss {sum_ / max(1, count):.4f}; {figures}", flush=True)

    end = begun + wish.minutes * 60.0
    last_keep = last_report = time.time()
    sum_, count, steps = torch.zeros((), device=device), 0, 0
    while time.time() < end:
        part = wish.begin + (wish.end - wish.begin) * min(1.0, (time.time() - begun) / (end - begun))
        rate = wish.peak * min(1.0, part / 0.02 + 0.02) * (0.5 + 0.5 * math.cos(math.pi * part) + 0.003)
        for group in best.param_groups:
            group["lr"] = rate
        records = source.batch(chunks)
        net.train()
        loss = loss_of(net, records, device)
        best.zero_grad(set_to_none=True)
        loss.backward()
        torch.nn.utils.clip_grad_norm_(net.parameters(), 2.0)
        best.step()
        seen, steps = seen + len(records), steps + 1
        keep_share = min(0.999, (1.0 + steps + seen // 4096) / (10.0 + steps + seen // 4096))
        with torch.no_grad():
            torch._foreach_lerp_(slow_floats, net_floats, 1.0 - keep_share)
        sum_, count = sum_ + loss.detach(), count + 1
        if time.time() - last_report > 60.0:
            report(sum_.item(), count)
            sum_, count, last_report = torch.zeros((), device=device), 0, time.time()
        if time.time() - last_keep > 110.0:
            keep()
            last_keep = time.time()
    source.close()
    keep()
    report(sum_.item(), count)


if __name__ == "__main__":
    main()
