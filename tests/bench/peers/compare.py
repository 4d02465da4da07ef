#!/usr/bin/python3
"""Whether a peer's figures are those of `lagline rank --format csv`: one line, status 1 if not.

  compare.py LAGLINE.csv PEER.csv

Values agree when they differ by at most 1e-9 of Lagline's.  The peer's order agrees when Lagline's
risks, put in it, fall, up to the same 1e-9: risks that differ only by rounding may change places.
Of a list cut at a rank, segments may differ where their risks are, within 1e-9, the last one's.
"""
import sys

import numpy as np
import pandas as pd

WITHIN = 1e-9
VALUES = ["damage_factor", "probability", "risk"]


def read_ours(path):
    names = {"probability_of_failure": "probability"}
    wanted = [*VALUES, "probability_of_failure", "rank", "rank_today", "risk_today", "segment"]
    table = pd.read_csv(path, usecols=lambda head: head.split(" ")[0] in wanted)
    return table.rename(columns=lambda head: names.get(head.split(" ")[0], head.split(" ")[0])).set_index("segment")


def read_sheet(table):
    """The columns of the workbook under the names of the others; no rank."""
    table = table[table["mechanism"] != 0]
    found = pd.DataFrame({"risk_today": table["risk today"], "damage_factor": table["damage ranked"],
                          "probability": table["probability ranked x 1e9"] / 1e9, "risk": table["risk ranked"]})
    return found.set_index(table["segment"])


def read_peer(path):
    table = pd.read_csv(path, low_memory=False)
    return read_sheet(table) if "mechanism" in table else table.set_index("segment")


def apart(ours, theirs):
    """Greatest difference by Lagline's value; a difference from 0 counts whole."""
    ours, theirs = ours.to_numpy(), theirs.to_numpy()
    return np.max(np.abs(ours - theirs) / np.where(ours == 0.0, 1.0, np.abs(ours)), initial=0.0)


def rises(risks):
    """By how much of itself a risk is exceeded by one further down."""
    later = np.maximum.accumulate(risks[::-1])[::-1]
    return np.max((later - risks) / np.where(risks == 0.0, 1.0, risks), initial=0.0)


def main(ours_path, peer_path):
    ours, peer = read_ours(ours_path), read_peer(peer_path)
    if len(ours) != len(peer) or len(ours) == 0:
        return f"{len(peer)} rows instead of {len(ours)}", 1
    common = ours.index.intersection(peer.index)
    last = ours["risk"].min()
    for alone in (ours.loc[ours.index.difference(common)], peer.loc[peer.index.difference(common)]):
        if len(alone) and (alone["risk"].max() - last) > WITHIN * last:
            return f"segments differ, among them {alone.index[0]}", 1
    ours, peer = ours.loc[common], peer.loc[common]
    columns = VALUES + (["risk_today"] if "risk_today" in peer else [])
    greatest = {c: apart(ours[c], peer[c]) for c in columns}
    text = f"{len(common)} segments, greatest relative differences: "
    text += ", ".join(f"{c} {d:.1e}" for c, d in greatest.items())
    wrong = [c for c, d in greatest.items() if not d <= WITHIN]
    for rank, risk in (("rank", "risk"), ("rank_today", "risk_today")):
        if rank not in peer:
            continue
        swapped = int((ours[rank] != peer[rank]).sum())
        rise = rises(ours[risk].loc[peer[rank].sort_values().index].to_numpy())
        text += f"; {swapped} with another {rank}, their risks {rise:.0e} apart"
        wrong += [rank] if not rise <= WITHIN else []
    if wrong:
        text += "; TOO FAR: " + ", ".join(wrong)
    return text, 1 if wrong else 0


if __name__ == "__main__":
    line, status = main(*sys.argv[1:])
    print(line)
    sys.exit(status)
