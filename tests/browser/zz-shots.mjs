import { launch, serveDist, open } from "/work/wordsA/tests/browser/harness.mjs";
const [browser, server] = await Promise.all([launch(), serveDist()]);
const [w,h]=(process.argv[2]??"390x844").split("x").map(Number); const lang=process.argv[3]??"de-DE"; const units=process.argv[4]; const screens=(process.argv[5]??"now,case").split(",");
const context = await browser.newContext({ viewport:{width:w,height:h}, locale: lang });
const { page, errors } = await open(context, server.url);
if(units){ await page.evaluate(()=>document.querySelector(".shows").open=true); await page.selectOption("[data-shows=lengths]","in"); await page.selectOption("[data-shows=distances]","ft"); await page.evaluate(()=>document.querySelector(".shows").open=false);}
for (const s of screens){
  const [name,part]=s.split("?");
  await page.evaluate((x)=>{location.hash=x},s); await page.waitForTimeout(300);
  await page.evaluate((n)=>{document.querySelectorAll(`#${n} details, #guide`).forEach(d=>d.open=true)},name);
  await page.waitForTimeout(200);
  const over=await page.evaluate(()=>{const W=document.documentElement.clientWidth; const out=[]; if(document.documentElement.scrollWidth>W) out.push("PAGE "+document.documentElement.scrollWidth);
   for(const e of document.querySelectorAll("main *, header *, nav *, footer *")){ if(!e.offsetParent) continue; const r=e.getBoundingClientRect(); if(r.right>W+1&&r.width>0&&!e.closest("svg")&&!e.classList.contains("unseen")&&!e.closest(".unseen")) out.push(e.tagName+"."+e.className+" "+Math.round(r.right)+" "+e.textContent.trim().slice(0,50)); if(e.scrollWidth>e.clientWidth+1&&getComputedStyle(e).overflow!=="visible"&&e.clientWidth>0) out.push("CUT "+e.tagName+"."+e.className+" "+e.textContent.trim().slice(0,50)); if((e.tagName==="INPUT")&&e.placeholder&&!e.value){const c=document.createElement("canvas").getContext("2d"); const st=getComputedStyle(e); c.font=st.font; const room=e.clientWidth-parseFloat(st.paddingLeft)-parseFloat(st.paddingRight); if(c.measureText(e.placeholder).width>room) out.push("PLACEHOLDER "+e.placeholder+" "+Math.round(c.measureText(e.placeholder).width)+">"+Math.round(room));} }
   return out;});
  console.log(s,over);
  const png=await page.screenshot({fullPage:true});
  const H=png.readUInt32BE(20), W=png.readUInt32BE(16), cols=Math.ceil(H/1400);
  const sheet=await (await browser.newContext({viewport:{width:cols*(W+6),height:1400}})).newPage();
  const src="data:image/png;base64,"+png.toString("base64");
  await sheet.setContent(`<body style="margin:0;display:flex;gap:6px;background:#888">${Array.from({length:cols},(_,i)=>`<div style="width:${W}px;height:1400px;background:url(${src}) 0 -${i*1400}px no-repeat"></div>`).join("")}`);
  await sheet.screenshot({path:`/tmp/wA-${w}-${lang}-${units||"si"}-${s.replace("?","_")}.png`}); await sheet.context().close();
}
console.log(errors);
await browser.close(); await server.stop(); process.exit(0);
