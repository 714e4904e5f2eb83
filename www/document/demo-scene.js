// @ts-check
/** What the demo looks at: its light, and what is asked beside the answer. */

/** @returns {import("../questions/light.js").LightPart} */
export function demoLight() {
  return {
    place: { latitudeDeg: 51.6, longitudeDeg: 3.7 },
    aim: { azimuthDeg: 300, elevationDeg: 10, rollDeg: 0 },
    maxPolarization: 0.75,
    surface: { refractiveIndex: 1.333, angleDeg: 60, surface: "oneFace", lensHeightMm: 1500 },
    pair: { stops: 4 },
    measured: {},
    timed: [],
    followSky: false,
    flag: {
      glass: { widthMm: 140, heightMm: 100, distanceFromRimMm: 15 },
      flag: { side: "top", hingeFromAxisMm: 75, hingeFromRimMm: 60, leanDeg: 0 },
      against: "sun",
      lamp: { rightMm: 0, upMm: 2000, aheadMm: 1500 },
    },
    ghost: { between: "plateAndSensor", tiltDeg: 0, lampMm: 6, reflectances: [0.04, 0.1] },
  };
}

/** What is asked beside the answer, to start from. @returns {Omit<import("../questions/depth-and-colour.js").OtherGlass, "sensor" | "behind">} */
export function demoScene() {
  return {
    focus: {},
    wish: { kind: "none", depthMm: 500, nearMm: 2500, farMm: 5000, blurMm: 0.3, share: 0.02 },
    colour: {},
    infrared: {},
    ramp: { by: "angle" },
  };
}
