import type { Locale } from '../types.ts';

/**
 * Short forms, contractions, text-speak, dialect spellings and dictation slips, each with the plain words that it
 * stands for. Left side: as written, in lower case without apostrophes and accents.
 */
const PLAIN = `
dont=do not, doesnt=does not, didnt=did not, dinnae=do not, disnae=does not, didnae=did not, doesny=does not, dinna=do not
cant=can not, cannot=can not, cannae=can not, canny=can not, canna=can not, carnt=can not, couldnt=could not, couldnae=could not, cudnt=could not
wont=will not, willnae=will not, winnae=will not, wouldnt=would not, wouldnae=would not, shouldnt=should not
isnt=is not, isnae=is not, isny=is not, arent=are not, arenae=are not, arny=are not, wasnt=was not, wasnae=was not, werent=were not
aint=is not, hasnt=has not, havent=have not, havenae=have not, hasnae=has not, hadnt=had not, havnt=have not, avent=have not, hvnt=have not
mustnt=must not, neednt=need not, darent=dare not, mightnt=might not
im=i am, ive=i have, ill=i will, id=i would, iv=i have, ima=i am
youre=you are, youve=you have, youll=you will, youd=you would
theyre=they are, theyve=they have, theyll=they will, theyd=they would, thye=they, htey=they
hes=he is, shes=she is, its=it is, thats=that is, whats=what is, whos=who is, wheres=where is, hows=how is, theres=there is, heres=here is, lets=let us
were=were, weve=we have, hed=he would, shed=shed, ones=ones, someones=someone is, everythings=everything is, nothings=nothing is, somethings=something is
u=you, ur=your, r=are, y=why, k=ok, kk=ok, okay=ok, oke=ok, okey=ok, okie=ok, n=and, nd=and, w=with, wi=with, pls=please, plz=please, plse=please, pleas=please, pleez=please, pse=please
cd=could, wd=would, shd=should, cos=because, coz=because, cuz=because, cause=cause, bc=because, thru=through, threw=threw, b4=before, gr8=great, l8r=later, 2day=today, 2moro=tomorrow, tmrw=tomorrow, tomoz=tomorrow, yday=yesterday, yest=yesterday
thx=thanks, tnx=thanks, ty=thanks, thanx=thanks, cheers=thanks, ta=thanks, thnx=thanks, txs=thanks
msg=message, msgs=messages, mesage=message, txt=text, txts=texts, txting=texting, textin=texting, texing=texting, sms=text, appt=appointment, apt=appointment, appts=appointments, fone=phone, fon=phone, ph=phone, mob=phone, tel=phone, fb=facebook
tv=tv, tely=telly, telli=telly, comp=computer, puter=computer, pc=computer, cpu=computer, spex=specs, glases=glasses, glassess=glasses, galsses=glasses, glsses=glasses, glasess=glasses, eyeglasses=glasses, specticles=spectacles, lense=lens, lenes=lens, lenz=lens
gonna=going to, gonnae=going to, gotta=got to, wanna=want to, dunno=do not know, lemme=let me, gimme=give me, whatcha=what are you, innit=is it not, kinda=kind of, sorta=sort of, outta=out of, lotta=lot of, hafta=have to, oughta=ought to, coulda=could have, shoulda=should have, woulda=would have, cmon=come on
ppl=people, sum1=someone, some1=someone, smone=someone, any1=anyone, no1=no one, noone=no one, nobody=nobody, wk=week, wks=weeks, hr=hour, hrs=hours, min=minute, mins=minutes, sec=second, secs=seconds, mnths=months, mth=month, mths=months, yr=year, yrs=years, hlf=half, abt=about, prob=probably, probs=probably, def=definitely, defo=definitely
ma=my, mah=my, oot=out, aboot=about, aff=off, fae=from, noo=now, nou=now, roon=round, baith=both, yin=one, wan=one, yins=ones, een=eyes, heid=head, nae=no, naw=no, aye=yes, yep=yes, yup=yes, yeah=yes, yeh=yes, ya=yes, nope=no, nah=no, nay=no, doon=down, doun=down, hame=home, auld=old, cauld=cold, ower=over, tae=to, dae=do, hae=have, gie=give, gied=gave, guid=good, richt=right, nicht=night, licht=light, stoap=stop, hingin=hanging, thae=those, whit=what, wha=who, wur=our, masel=myself, coupla=couple of, couldae=could have
dis=this, dat=that, dem=them, dey=they, di=the, de=the, d=the, da=the, dese=these, wen=when, wot=what, wat=what, wen=when, wiv=with, em=them, dis=this, abeg=please, biko=please, wey=that, nuh=not, nah=no, mi=my, mek=make, unnu=you
yous=you, youse=you, yinz=you, yall=you, yalls=your, ye=you, yer=your, yor=your, thier=their, teh=the, adn=and, mor=more, mair=more, plz=please, enuff=enough, flashin=flashing, flashs=flashes, flashez=flashes, flashng=flashing, yday=yesterday, ystrday=yesterday, yest=yesterday, floters=floaters, floter=floater, flotaers=floaters, floatrs=floaters, curtin=curtain, curten=curtain, shado=shadow, blak=black, blck=black, hurst=hurts, hurtz=hurts, hertz=hurts, fel=fell, crashd=crashed, triped=tripped, trippd=tripped, tript=tripped, sudenly=suddenly, suddnly=suddenly, blud=blood, eyse=eyes, iyes=eyes, i's=eyes, pane=pain, payn=pain, vison=vision, vishun=vision, scratchd=scratched, brokn=broken, brokin=broken, snaped=snapped, blurd=blurred, blurrd=blurred, blured=blurred, wrk=work, evryone=everyone, evrything=everything, everythin=everything, biger=bigger, smaler=smaller, claer=clear, cleer=clear, agse=ages, ages=ages, warin=wearing, werin=wearing, enuff=enough, enuf=enough, enogh=enough, leev=leave, sttop=stop, stpp=stop, stoop=stoop, stopit=stop it, hlep=help, hepl=help, helpp=help, hlp=help, reed=read, hed=head, hedd=head, bak=back, tite=tight, tyt=tight, rong=wrong, wrng=wrong, nuber=number, numbr=number, numbre=number, ther=they are, thier=their, fone=phone, arrivd=arrived, ariveed=arrived, arrved=arrived, luv=love, luvly=lovely, cal=call, cll=call, colord=coloured, coulord=coloured, wonkey=wonky, wonkie=wonky, headlites=headlights, lites=lights, shud=should, cud=could, wud=would, sposed=supposed, dropt=dropped, strite=straight, streight=straight, othr=other, darkr=darker, tho=though, somhow=somehow, kant=cannot, agess=ages, alredy=already, coatin=coating, sumone=someone, somone=someone, evrywhere=everywhere, nuthin=nothing, seperately=separately, mornin=morning, nite=night, wiht=with, whit=what
knowes=nose, noze=nose, nse=nose, hedache=headache, headake=headache, hedaches=headaches, headaches=headaches, headach=headache, headachy=headachy, migrane=migraine, diz=dizzy, dizy=dizzy, dizzey=dizzy
bluring=blurring, blurr=blur, blury=blurry, blurrey=blurry, bluury=blurry, fuzy=fuzzy, fuzzey=fuzzy, focussed=focused, outa=out of, infront=in front, alot=a lot, atleast=at least, aswell=as well, incase=in case, eachother=each other, everytime=every time, anymore=any more, nomore=no more, allright=alright, alrite=alright, alrght=alright, rite=right, lite=light, nite=night, tonite=tonight, lookin=looking, seein=seeing, wearin=wearing, readin=reading, drivin=driving, walkin=walking, gettin=getting, comin=coming, goin=going, doin=doing, slippin=slipping, slidin=sliding, fallin=falling, pinchin=pinching, diggin=digging, hurtin=hurting, nothin=nothing, nothing=nothing, nowt=nothing, owt=anything, summat=something, sumthin=something, somethin=something, sumthing=something, everythin=everything, anythin=anything, havin=having, makin=making, mornin=morning, evenin=evening, feelin=feeling, movin=moving, swimmin=swimming, keepin=keeping, tryin=trying, gorra=got to, arvo=afternoon, avo=afternoon, deffo=definitely
hv=have, hav=have, av=have, ov=of, haz=has, wz=was, bin=bin, bcoz=because, nxt=next, evry=every, evn=even, vry=very, rly=really, rlly=really, jst=just, stil=still, agen=again, agn=again, yestrday=yesterday, cld=could, wld=would, shld=should, cudnt=could not, dnt=do not, doin=doing, doesn=does not, didn=did not, idk=i do not know, tbh=to be honest, imo=in my opinion, btw=by the way, fyi=for your information, asap=as soon as possible, omg=oh my god, rn=right now, atm=cashpoint, lol=lol, lmao=lol, rofl=lol, haha=lol, hahaha=lol, hehe=lol, ngl=not going to lie, smh=lol, brb=be right back, nvm=never mind, tysm=thanks, np=no problem, dr=doctor, doc=doctor
loosing=losing, recieved=received, receved=received, recived=received, arived=arrived, reciept=receipt, definately=definitely, seperate=separate, wierd=weird, wich=which, diffrent=different, distence=distance, distnace=distance, distanse=distance, scrached=scratched, scrach=scratch, scratchs=scratches, refnd=refund, refun=refund, unsubcribe=unsubscribe, unsubscibe=unsubscribe, unsuscribe=unsubscribe, unsub=unsubscribe, stp=stop, stpo=stop, sotp=stop, spot=spot, stopp=stop, optout=opt out, stopall=stop all, unstop=unstop, apointment=appointment, appoinment=appointment, appointmnt=appointment, prescripton=prescription, perscription=prescription, presciption=prescription
windscren=windscreen, windsheild=windshield, winscreen=windscreen, dashbord=dashboard, steeringwheel=steering wheel, kerb=kerb, curb=curb, stares=stares, stiars=stairs, paper=paper
`;

const PLAIN_ES = `
q=que, k=que, xq=porque, porq=porque, pq=porque, tb=tambien, tmb=tambien, x=por, d=de, porfa=por favor, porfis=por favor, pfa=por favor, pf=por favor, xfa=por favor, xfavor=por favor, grax=gracias, msj=mensaje, msjs=mensajes, mjs=mensajes, sms=mensajes, cel=celular, tele=tele, dr=doctor, bn=bien, toy=estoy, ta=esta, pa=para, muxo=mucho, mxo=mucho, aki=aqui, kiero=quiero, lentez=lentes, anteojos=lentes, gafas=lentes, espejuelos=lentes, antiparras=lentes
`;

function read(lines: string): ReadonlyMap<string, readonly string[]> {
  const map = new Map<string, readonly string[]>();
  for (const entry of lines.split(/[,\n]/u)) {
    const [short, full] = entry.split('=');
    if (short === undefined || full === undefined) continue;
    map.set(short.trim(), full.trim().split(' '));
  }
  return map;
}

export const shortForms: Readonly<Record<Locale, ReadonlyMap<string, readonly string[]>>> = {
  en: read(PLAIN),
  es: read(PLAIN_ES),
};
