"""Writes the vectors of statistics, dead zones and curves beside this folder.

Needs Python 3.11 with numpy, scipy and statsmodels in the versions noted in the files. Run from
this folder: python3 statistics_and_settings.py
"""
import json, math, sys
import numpy as np, scipy, scipy.stats as st, statsmodels
import statsmodels.stats.proportion as smp
from scipy.optimize import brentq

V = sys.argv[1] if len(sys.argv) > 1 else "../"
VERSIONS = {"python": sys.version.split()[0], "numpy": np.__version__, "scipy": scipy.__version__, "statsmodels": statsmodels.__version__}


def w(name, content, note):
    with open(V + name, "w", encoding="utf-8") as file:
        json.dump({"_note": note, "_versions": VERSIONS, **content}, file, indent=1)
        file.write("\n")


# A generator that any language can repeat, and Box and Muller's normal numbers from it.
def lcg(n, seed=12345):
    s = seed; out = []
    for _ in range(n):
        s = (1664525 * s + 1013904223) % 2**32
        out.append((s + 0.5) / 2**32)
    return np.array(out)


def gauss(n, seed=12345):
    u = lcg(2 * n, seed)
    return np.sqrt(-2 * np.log(u[0::2])) * np.cos(2 * np.pi * u[1::2])


# dead zones
def sgn(a): return (a>0)-(a<0)
def cl(a,lo=0.,hi=1.): return max(lo,min(hi,a))
def axial(x,y,d,s): f=lambda a: sgn(a)*cl((abs(a)-d)/(s-d)); return [f(x),f(y)]
def hard_radial(x,y,d): return [0.,0.] if math.hypot(x,y)<d else [x,y]
def scaled_radial(x,y,d,s):
    r=math.hypot(x,y)
    if r<=d: return [0.,0.]
    m=cl((r-d)/(s-d)); return [x/r*m,y/r*m]
def sloped(x,y,d,s):
    f=lambda a,b: sgn(a)*cl((abs(a)-d*abs(b))/(s-d*abs(b))) if abs(a)>d*abs(b) else 0.
    return [f(x,y),f(y,x)]
def hybrid(x,y,d,s):
    r=math.hypot(x,y)
    if r<=d: return [0.,0.]
    u=scaled_radial(x,y,d,s); return sloped(u[0],u[1],d,1.0)
pts=[(0,0),(.05,.02),(.1,.1),(.2,0),(0,-.2),(.15,.15),(.3,-.4),(.5,.05),(.6,.6),(.9,0),(.95,.1),(1,0),(-1,1),(.70710678,.70710678),(-.3,.9)]
w('deadzone.json',{'d':0.15,'s':0.95,'order':'y down (Gamepad convention); maths is symmetric','points':[{'in':list(map(float,p)),'axial':axial(*p,.15,.95),'hard_radial':hard_radial(*p,.15),'scaled_radial':scaled_radial(*p,.15,.95),'sloped_axial':sloped(*p,.15,.95),'hybrid_radial_then_sloped':hybrid(*p,.15,.95)} for p in pts],
 'invariants':['scaled_radial preserves direction atan2(y,x)','output magnitude is 0 at r=d and 1 at r>=s, monotone','axial on the diagonal: a point with r>d may still be zero when both |x|,|y|<=d (r up to d*sqrt2)','continuity: out(d+)=0 for scaled forms; hard_radial jumps by d'],
 'formulas':{'axial':'sgn(a)*clamp((|a|-d)/(s-d),0,1) per axis','scaled_radial':'(x,y)/r*clamp((r-d)/(s-d),0,1)','sloped_axial':'per axis with d*|other axis| as its dead zone'}},'own arithmetic (plain maths, no library)')
# response curves
def powc(r,p): return r**p
def cubic(r,a): return a*r**3+(1-a)*r
def expo(r,k): return r if k==0 else (math.exp(k*r)-1)/(math.exp(k)-1)
R=[0,.1,.25,.5,.75,.9,1]
w('response_curves.json',{'r':R,'power':{str(p):[powc(r,p) for r in R] for p in (.5,.75,1,1.5,2,3)},'cubic_blend_a*r^3+(1-a)*r':{str(a):[cubic(r,a) for r in R] for a in (0,.25,.5,.75,1)},'exponential_(e^kr-1)/(e^k-1)':{str(k):[expo(r,k) for r in R] for k in (-2,0,1,2,3,4)},'slope_at_0':{'cubic_a':'1-a','exponential_k':{str(k):k/(math.exp(k)-1) for k in (1,2,3,4)},'power':'0 for p>1, inf for p<1'},'gain_ratio_half':{'power p: out(0.5)':{str(p):.5**p for p in (1,1.5,2,3)}}},'own arithmetic')
# PCA ellipse
g1=gauss(200,555);g2=gauss(200,777)
c,s=math.cos(math.radians(30)),math.sin(math.radians(30))
X=np.c_[.02+c*.03*g1-s*.01*g2,-.01+s*.03*g1+c*.01*g2]
C=np.cov(X.T,ddof=1);ev,evec=np.linalg.eigh(C);n=len(X)
ma=math.degrees(math.atan2(evec[1,1],evec[0,1]))%180
F2=st.f.ppf(.95,2,n-2)
w('ellipse_pca.json',{'X':X.tolist(),'mean':X.mean(0).tolist(),'cov_ddof1':C.tolist(),'eigenvalues_desc':[float(ev[1]),float(ev[0])],'major_axis_deg_mod180':ma,'closed_form_deg':math.degrees(.5*math.atan2(2*C[0,1],C[0,0]-C[1,1]))%180,'chi2_2_95':float(st.chi2.ppf(.95,2)),'minus2ln0.05':-2*math.log(.05),'area95_chi2':math.pi*float(st.chi2.ppf(.95,2))*math.sqrt(np.linalg.det(C)),'area95_prediction_F':math.pi*2*(n-1)*(n+1)/(n*(n-2))*F2*math.sqrt(np.linalg.det(C)),'area95_confidence_of_mean_F':math.pi*2*(n-1)/(n*(n-2))*F2*math.sqrt(np.linalg.det(C)),'semi_axes95_chi2':[math.sqrt(float(st.chi2.ppf(.95,2))*e) for e in (ev[1],ev[0])],'radius_percentiles_type7':{str(p):float(np.percentile(np.hypot(*(X-X.mean(0)).T),p)) for p in (50,90,95,99)},'anisotropy_sqrt_ratio':float(math.sqrt(ev[1]/ev[0])),
 'rayleigh':{'sigma1':1.0,'mean':math.sqrt(math.pi/2),'median':math.sqrt(2*math.log(2)),'r95':math.sqrt(-2*math.log(.05)),'r99':math.sqrt(-2*math.log(.01)),'r999':math.sqrt(-2*math.log(.001))}},'numpy.cov/eigh, scipy.stats; generator seeds 555,777, rotation 30 deg, sd 0.03/0.01')
# circular stats
d=np.radians([350,10,5,355,20,340,15])
w('circular.json',{'deg':[350,10,5,355,20,340,15],'circmean_deg':math.degrees(st.circmean(d,high=np.pi,low=-np.pi)),'R_bar':float(abs(np.mean(np.exp(1j*d)))),'circstd_rad':float(st.circstd(d)),'circvar':float(st.circvar(d)),'rotation_estimate_example':{'target_deg':[0,45,90,135,180,225,270,315],'produced_deg':[12,55,104,147,190,240,281,329],'mean_rotation_deg':math.degrees(np.angle(np.mean(np.exp(1j*np.radians(np.array([12,55,104,147,190,240,281,329])-np.array([0,45,90,135,180,225,270,315]))))))},
 'procrustes_note':'rotation = atan2(sum(xt*yp-yt*xp), sum(xt*xp+yt*yp))'},'scipy.stats.circmean/circstd/circvar')
# stats
w('quantiles.json',{'t':{f'{p}':{str(v):float(st.t.ppf(p,v)) for v in (1,2,3,4,5,7,9,11,14,19,24,29,59,119)} for p in (.9,.95,.975,.99,.995)},'z':{str(p):float(st.norm.ppf(p)) for p in (.8,.9,.95,.975,.99,.995,.98)},'chi2_2':{str(p):float(st.chi2.ppf(p,2)) for p in (.5,.9,.95,.99)},'sd_ci95_factors':{str(n):[math.sqrt((n-1)/st.chi2.ppf(.975,n-1)),math.sqrt((n-1)/st.chi2.ppf(.025,n-1))] for n in (5,8,10,15,20,30,60,120,300)}},'scipy.stats')
def wil(k,n): return [float(v) for v in smp.proportion_confint(k,n,.05,'wilson')]
def cp(k,n): return [float(v) for v in smp.proportion_confint(k,n,.05,'beta')]
def ac(k,n): return [float(v) for v in smp.proportion_confint(k,n,.05,'agresti_coull')]
w('binomial.json',{'cases':[{'k':k,'n':n,'wilson95':wil(k,n),'clopper_pearson95':cp(k,n),'agresti_coull95':ac(k,n)} for k,n in [(0,10),(0,20),(1,20),(3,20),(10,20),(17,20),(19,20),(10,10),(45,50),(8,10)]],'rule_of_three_exact_one_sided':{str(n):1-.05**(1/n) for n in (10,20,30,59,60,100,299)},'rule_of_three_3/n':{str(n):3/n for n in (10,20,30,59,60,100,299)}},'statsmodels.stats.proportion.proportion_confint')
def k1(n,p,g): return float(st.nct.ppf(g,n-1,st.norm.ppf(p)*math.sqrt(n))/math.sqrt(n))
def k2h(n,p,g): return float(math.sqrt((n-1)*(1+1/n)*st.norm.ppf((1+p)/2)**2/st.chi2.ppf(1-g,n-1)))
def n1(p,g): return math.ceil(math.log(1-g)/math.log(p)-1e-12)
def n2(p,g):
    n=2
    while 1-n*p**(n-1)+(n-1)*p**n<g: n+=1
    return n
w('tolerance.json',{'one_sided_k_exact_nct':[{'n':n,'p':p,'gamma':g,'k':k1(n,p,g)} for n in (5,10,20,30,43,60,100,300) for p,g in ((.9,.95),(.95,.95),(.99,.95),(.9,.99))],'two_sided_k_howe':[{'n':n,'p':p,'gamma':g,'k':k2h(n,p,g)} for n in (10,20,30,43,60,100) for p,g in ((.9,.95),(.95,.95),(.99,.95),(.9,.99))],'nist_example':{'n':43,'p':.9,'gamma':.99,'k1_published':1.8752,'k1':k1(43,.9,.99),'k2_published':2.217,'k2_howe':k2h(43,.9,.99)},'nonparametric_n_max_one_sided':{f'{p}/{g}':n1(p,g) for p in (.9,.95,.99) for g in (.9,.95,.99)},'nonparametric_n_minmax_two_sided':{f'{p}/{g}':n2(p,g) for p in (.9,.95,.99) for g in (.9,.95,.99)}},'scipy.stats.nct (one-sided exact), Howe (1969) two-sided, Wilks (1941) order statistics. NIST/SEMATECH e-Handbook 7.2.6.3 example values recalled from memory and reproduced here')
# robust
y=np.array([.01,.012,.009,.5,.011,.013,.008,.010])
w('robust.json',{'y':y.tolist(),'median':float(np.median(y)),'mad_raw':float(st.median_abs_deviation(y)),'mad_normal':float(st.median_abs_deviation(y,scale='normal')),'normal_scale_const':1/float(st.norm.ppf(.75)),'pct_type7':{str(p):float(np.percentile(y,p)) for p in (5,25,50,75,95)},'trim_mean_0.125':float(st.trim_mean(y,.125))},'numpy/scipy')
tt=np.array([0,1,2,3,4,5,6,7,8,9],float);yy=np.array([.010,.0112,.0119,.0133,.0138,.0152,.0161,.0300,.0178,.0191])
ts=st.theilslopes(yy,tt,.95,method='separate');lrg=st.linregress(tt,yy);kt=st.kendalltau(tt,yy)
w('drift.json',{'t':tt.tolist(),'y':yy.tolist(),'theil_sen':{'slope':float(ts[0]),'intercept':float(ts[1]),'lo':float(ts[2]),'hi':float(ts[3])},'ols':{'slope':lrg.slope,'intercept':lrg.intercept,'se':lrg.stderr,'t975':float(st.t.ppf(.975,8)),'p':lrg.pvalue},'kendall':{'tau':float(kt.statistic),'p':float(kt.pvalue)}},'scipy.stats.theilslopes/linregress/kendalltau')
# AR1 effective n
e=gauss(300,31);ar=np.zeros(300)
for i in range(1,300): ar[i]=.8*ar[i-1]+e[i]
r1=float(np.sum((ar[1:]-ar.mean())*(ar[:-1]-ar.mean()))/np.sum((ar-ar.mean())**2))
w('ar1_neff.json',{'x':ar.tolist(),'lag1':r1,'neff_n(1-r)/(1+r)':300*(1-r1)/(1+r1)},'own; AR(1) phi=0.8; consecutive samples of a stick are not independent, so CIs must use blocks/trials or n_eff')
# Poisson intervals of a count's mean: exact (Garwood) by chi-square, mid-P by root finding on poisson.cdf/pmf
def midp(k):
    f=lambda m: st.poisson.cdf(k,m)-.5*st.poisson.pmf(k,m)
    lo=0. if k==0 else brentq(lambda m:f(m)-.975,1e-12,k+1,xtol=1e-14,rtol=1e-14)
    hi=brentq(lambda m:f(m)-.025,max(k,1e-9),k+20+10*math.sqrt(k+1),xtol=1e-14,rtol=1e-14)
    return [lo,hi]
ks=[0,1,2,3,5,10,20,50,100]
w('poisson.json',{'cases':[{'k':k,'exact95':[0. if k==0 else float(st.chi2.ppf(.025,2*k)/2),float(st.chi2.ppf(.975,2*k+2)/2)],'mid_p95':midp(k)} for k in ks]},'scipy.stats.chi2, scipy.stats.poisson + scipy.optimize.brentq')
w('distributions.json',{'chi2':[{'p':p,'df':d,'x':float(st.chi2.ppf(p,d))} for p in (.005,.025,.5,.95,.975,.995) for d in (1,2,3.5,9,29,120,500)],
 'chi2_share':[{'x':x,'df':d,'p':float(st.chi2.cdf(x,d)),'above':float(st.chi2.sf(x,d))} for x in (.5,3,20,100) for d in (1,4,33)],
 't_share':[{'t':t,'df':d,'p':float(st.t.cdf(t,d))} for t in (-3,-.4,0,1.2,6) for d in (1,2.5,10,200)],
 'normal_share':[{'z':z,'p':float(st.norm.cdf(z))} for z in (-8,-3,-.5,0,1,2.5)]},'scipy.stats.chi2, t, norm')
x = np.array([.31,.02,.11,.05,.19,.44,.09,.27,.15,.08,.6,.03])
w('genpareto.json',{'cases':[{'above':a,'shape':c,'scale':s,'share':float(st.genpareto.sf(a,c,scale=s))} for a in (0,.1,.7,3) for c in (-.25,-.1,0,.2) for s in (.2,1)],'sizes':x.tolist(),'exponential_scale_ml':float(st.expon.fit(x,floc=0)[1])},'scipy.stats.genpareto.sf, expon.fit')

