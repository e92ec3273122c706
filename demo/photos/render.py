#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""Renders invented photographs of pieces of a pack, with the truth beside each.

    demo/photos/render.py --pack packs/ambrel-valley --out FOLDER [--scenes 0-59] [--size 1600x1200] [--seed 1]
                          [--wishes '{"tilt_deg": 30}'] [--quick] [--again]

Writes PACK-NNNN.jpg and PACK-NNNN.json (README.md says what is in it). A photograph that is there is left alone unless
--again is given. One POV-Ray process with one thread at a time, at low priority: start the script twice with different
scenes for two."""

import argparse
import json
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile

sys.dont_write_bytecode = True
sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent))

import cv2  # noqa: E402
import numpy as np  # noqa: E402

from develop import develop, jpeg  # noqa: E402
from pack import Pack  # noqa: E402
from scene import Scene  # noqa: E402


def traced(folder, size, table):
    """Linear RGB of folder/scene.pov before the table."""
    run = subprocess.run(["nice", "-n", "10", "povray", "+Iscene.pov", "+Oscene.png", f"+W{size[0]}", f"+H{size[1]}", "+FN16",
                          "+UA", "File_Gamma=1.0", "+A0.2", "+AM1", "+R2", "-J", "-D", "+WT1", "+Q9"],
                         cwd=folder, capture_output=True, text=True)
    picture = cv2.imread(str(folder / "scene.png"), cv2.IMREAD_UNCHANGED) if (folder / "scene.png").exists() else None
    if run.returncode != 0 or picture is None:
        faults = "\n".join(line for line in run.stderr.split("\n") if "Error" in line)
        raise RuntimeError(f"povray: it failed on {folder}/scene.pov:\n{faults}")
    picture = picture.astype(np.float32) / 65535
    cover = picture[:, :, 3:]
    return picture[:, :, 2::-1] * cover + table * (1 - cover)


def photograph(scene, size, quality=None, keep=None, fine=True):
    """(JPEG bytes, truth)"""
    folder = pathlib.Path(keep) if keep else pathlib.Path(tempfile.mkdtemp(prefix="footring-scene-"))
    try:
        scene.write(folder, size, fine)
        camera = scene.camera(size)
        pixels, done = develop(traced(folder, (camera.width, camera.height), scene.table_seen), scene, size)
        data, stored = jpeg(pixels, scene, quality)
        scene.truth["camera"] = {**done, **stored}
        return data, scene.truth
    finally:
        if not keep:
            shutil.rmtree(folder, ignore_errors=True)


def numbers(text):
    for part in text.split(","):
        first, _, last = part.partition("-")
        yield from range(int(first), int(last or first) + 1)


def put(path, data):
    scratch = path.with_name(f".{path.name}.{os.getpid()}")
    scratch.write_bytes(data)
    scratch.rename(path)


def main(arguments):
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--pack", required=True)
    parser.add_argument("--out", required=True, type=pathlib.Path)
    parser.add_argument("--scenes", default="0-19")
    parser.add_argument("--size", default="1600x1200")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--wishes", default="{}")
    parser.add_argument("--quick", action="store_true", help="hard shadows where soft ones would take long")
    parser.add_argument("--again", action="store_true")
    parser.add_argument("--keep", help="a folder for the POV-Ray files of the last scene")
    asked = parser.parse_args(arguments)
    size = tuple(int(v) for v in asked.size.split("x"))
    pack = Pack(asked.pack)
    asked.out.mkdir(parents=True, exist_ok=True)
    for number in numbers(asked.scenes):
        scene = Scene(pack, asked.seed, number, json.loads(asked.wishes))
        photo = asked.out / f"{scene.name}.jpg"
        if photo.with_suffix(".json").exists() and not asked.again:
            continue
        data, truth = photograph(scene, size, keep=asked.keep, fine=not asked.quick)
        truth["file"] = photo.name
        put(photo, data)
        put(photo.with_suffix(".json"), (json.dumps(truth, indent=1, ensure_ascii=False) + "\n").encode())
        print(photo.name, truth["kind"], truth["side"], flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
