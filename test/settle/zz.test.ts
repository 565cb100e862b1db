import { it } from 'vitest';
import { fitStepResponse } from '../../src/settle/fitStepResponse.js';
import { nonlinearLeastSquares } from '../../src/settle/nonlinearLeastSquares.js';
import { seededRandom } from '../../src/statistics/random.js';
it('misra', () => {
const x=[77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0],y=[10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.4, 75.47, 81.78];
for (const s of [[500,1e-4],[250,5e-4]]) { const f = nonlinearLeastSquares({x,y,start:s,curve:{value:([a,b],t)=>a*-Math.expm1(-b*t),gradient:([a,b],t)=>[-Math.expm1(-b*t),a*t*Math.exp(-b*t)]}});
console.log(f.parameters, f.residualSumOfSquares, f.dof, [0,1].map(j=>Math.sqrt(f.residualSumOfSquares/12*f.unscaledCovariance[j][j]))); }
console.log(fitStepResponse({elapsed_s:x,reading_mW:y},{least_time_constants:0}));
console.log(fitStepResponse({elapsed_s:x,reading_mW:y}));
});
const r = seededRandom(3);
for (const [name, o, len, n, tau, t0, d, sd] of [['plain',{},15,40,3,0,0,0.01],['short',{},6,40,3,0,0,0.01],['onset',{onset_s:'fitted'},20,60,3,1.3,0,0.01],['drift',{drift:true},20,60,3,0,-0.003,0.005],['both',{onset_s:'fitted',drift:true},25,60,3,1.3,-0.003,0.005],['noisy',{},12,15,3,0,0,0.05]] as const) it(name, () => {
  let ct=0,cp=0,N=300,ok=0; const ref: Record<string,number> = {}; const s0=Date.now(); let warn=0, w=0; const dd: number[]=[];
  for (let k=0;k<N;k++){ const t=Array.from({length:n},(_,i)=>(i+1)*len/n);
   const y=t.map(v=>{const s=v-t0; return (s>0?100*((1-d*tau)*(1-Math.exp(-s/tau))+d*s):0)+100*sd*r.normal();});
   const f=fitStepResponse({elapsed_s:t,reading_mW:y},o);
   if(f.status==='refused'){ref[f.reason]=(ref[f.reason]??0)+1;continue;} ok++; warn+=f.warnings.length;
   if(f.time_constant_s.interval[0]<=tau&&tau<=f.time_constant_s.interval[1])ct++; if(f.settled_mW.interval[0]<=100&&100<=f.settled_mW.interval[1])cp++; w+=f.time_constant_s.standard_uncertainty;
  }
  console.log(name,'ok',ok,'ctau',(ct/ok).toFixed(3),'cP',(cp/ok).toFixed(3),ref,'warn',warn,'u',w/ok,'ms',Date.now()-s0);
});
