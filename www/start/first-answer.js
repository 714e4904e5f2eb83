// @ts-check
// What Now answers of the demo, in each language: a very first start shows it, marked,
// until it has worked it out. Written by tests/pictures/first-answer.mjs; kept-answer.test.mjs
// compares it with what the page says then.
Object.assign(globalThis, {
  firstAnswer: {
    en: {"#read-stop":"T16","#shot-stop":"T2.8",".now-camera-line":"EI 800 · 24 · 180°","#now .need-stops":"5 stops","#now .need-more":"ND 1.5",".plate [data-answer=pieces]":"1.2 IR + 0.3",".plate [data-answer=stop]":"T2.8",".plate [data-answer=fit]":"clear",".plate [data-answer=left]":"-0.08 left · ± 0.12",".plate-warn":"",".plate-kept":"The demo; being worked out."},
    de: {"#read-stop":"T16","#shot-stop":"T2,8",".now-camera-line":"EI 800 · 24 · 180°","#now .need-stops":"5 Blenden","#now .need-more":"ND 1,5",".plate [data-answer=pieces]":"1.2 IR + 0.3",".plate [data-answer=stop]":"T2,8",".plate [data-answer=fit]":"frei",".plate [data-answer=left]":"-0,08 übrig · ± 0,12",".plate-warn":"",".plate-kept":"Das Beispiel; wird gerechnet."},
  },
});
