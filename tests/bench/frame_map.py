"""The map of web/tests/frame_map_speed.rs in vectorised NumPy, single precision.

Prints milliseconds, shortest of the frames. The grad is tabulated once, as in
the program, so only the map itself is timed.
"""
import time

import numpy as np

COLUMNS, ROWS, FRAMES = 1920, 1080, 7
F32 = np.float32
WIDTH, HEIGHT, FOCAL, NUMBER, BEHIND, AHEAD = 24.9, 14.0, 18.0, np.sqrt(8.0), 40.0, 35.0
Z = BEHIND + AHEAD
RADIUS = FOCAL / NUMBER / 2

x = (((np.arange(COLUMNS) + 0.5) / COLUMNS - 0.5) * WIDTH / FOCAL).astype(F32)
y = ((0.5 - (np.arange(ROWS) + 0.5) / ROWS) * HEIGHT / FOCAL).astype(F32)
X, Y = np.meshgrid(x, y)


def grad_table():
    """Stops against the footprint's centre, by a fine sum over the pupil."""
    centres = np.linspace(-15 - RADIUS, 15 + RADIUS, 1025)
    phi = (np.arange(400) + 0.5) / 400 * np.pi - np.pi / 2
    weight = np.cos(phi) ** 2 / np.sum(np.cos(phi) ** 2)
    heights = centres[:, None] + RADIUS * np.sin(phi)
    density = 0.9 * np.clip(heights / 30 + 0.5, 0, 1)
    return centres.astype(F32), -np.log2((10.0**-density) @ weight).astype(F32)


CENTRES, STOPS = grad_table()


def bearing(azimuth, elevation):
    a, e = np.radians([azimuth, elevation])
    return np.array([np.sin(a) * np.cos(e), np.cos(a) * np.cos(e), np.sin(e)])


def camera(azimuth, elevation, roll):
    forward = bearing(azimuth, elevation)
    right = bearing(azimuth + 90, 0)
    up = np.cross(right, forward)
    r = np.radians(roll)
    return np.array([np.cos(r) * right - np.sin(r) * up, np.cos(r) * up + np.sin(r) * right, forward])


AIM = camera(40, -3, 4)
SUN = (AIM @ bearing(130, 28)).astype(F32)
UP = (AIM @ np.array([0, 0, 1.0])).astype(F32)
TURN = np.radians(75 + 90)
ABSORBED = np.array([np.sin(TURN), np.cos(TURN)]).astype(F32)


def grad():
    turn = np.radians(8)
    line = Z * 0.05 * HEIGHT / FOCAL * np.cos(turn)
    u = F32(-Z * np.sin(turn)) * X + F32(Z * np.cos(turn)) * Y - F32(line)
    return np.interp(u, CENTRES, STOPS).astype(F32)


def sky():
    length = X * X + Y * Y + F32(1)
    c = SUN[0] * X + SUN[1] * Y + SUN[2]
    a = ABSORBED[0] * X + ABSORBED[1] * Y
    c2, kept = c * c, length - a * a
    across = length * F32(SUN[:2] @ ABSORBED) - c * a
    whole = (length + c2) * kept
    share = (whole - F32(0.75) * ((length - c2) * kept - F32(2) * across * across)) / whole
    stops = -np.log2(np.maximum(share, F32(1e-6)))
    return np.where(UP[0] * X + UP[1] * Y + UP[2] > 0, stops, F32(0))


def shade():
    ring = F32(61.0)
    d = F32(Z) * np.sqrt(X * X + Y * Y)
    r = F32(RADIUS)
    near = np.clip((d * d + r * r - ring * ring) / (F32(2) * np.maximum(d, F32(1e-6)) * r), -1, 1)
    far = np.clip((d * d + ring * ring - r * r) / (F32(2) * np.maximum(d, F32(1e-6)) * ring), -1, 1)
    root = (-d + r + ring) * (d + r - ring) * (d - r + ring) * (d + r + ring)
    lens = r * r * np.arccos(near) + ring * ring * np.arccos(far) - F32(0.5) * np.sqrt(np.maximum(root, 0))
    passed = np.where(d <= ring - r, F32(1), lens / (F32(np.pi) * r * r))
    return np.where(d > ring, F32(np.nan), -np.log2(np.maximum(passed, F32(1e-6))))


SHADE = shade()


def shortest(frame):
    frame()
    best = np.inf
    for _ in range(FRAMES):
        start = time.perf_counter()
        frame()
        best = min(best, (time.perf_counter() - start) * 1000)
    return best


print(f"numpy {np.__version__}")
print(f"frame_map grad {shortest(lambda: F32(1.7) + grad()):.3f}")
print(f"frame_map sky {shortest(lambda: F32(1.7) + sky()):.3f}")
# Shading is kept from frame to frame by the program, so here too.
print(f"frame_map everything {shortest(lambda: F32(1.7) + grad() + sky() + SHADE):.3f}")
print(f"frame_map stop-moved {shortest(lambda: F32(1.7) + grad() + sky() + shade()):.3f}")
