import { phrases } from '../phrases.ts';

/** Words that carry no weight: they may stand between any two words of a phrase. */
export const lightWords = phrases(`
the, a, an, my, your, our, this, that, these, those, really, just, so, very, quite, bit, little, wee, still, always, even, too, also, rather, actually, totally, absolutely, completely, proper, properly, dead, bloody, pretty, pure, slightly, please, kind, sort, of, some, all, lol, um, uh, er, erm, like, oh, well, now, then, yet, there, here, sometimes, often, mostly, usually, probably, maybe, perhaps, honestly, basically, literally, simply, definitely, certainly, terribly, awfully, ever, such, right, po, lah, eh, ok, be, is, are, am, was, were, been, do, does, did, have, has, had, i, it, you, he, she, we, they, them, me, to, at, in, on, for, with, any, as, will, would, can, could, one, get, got, going, go, ma'am, sir, madam, own, much, dey, na
`);

/** Words round a reply that do not change what the whole of it says. */
export const politeWords = phrases(`
please, thanks, thank, you, thankyou, hi, hello, hey, hiya, morning, afternoon, dear, sir, madam, ok, sorry, ta, cheers, kindly, now, just, yes, mate, love, hun, pet, pal, lol, thumbsup, the, guys, team, all, very, much, regards, kind, best, so, but, well, er, actually, also, or, anyway, honestly, sorry, gosh, right, tbh, yes, um, look, listen, xx, x, xxx, oh, um, and
`);

/** Words that deny what follows. */
export const denials = phrases(`not, no, never, without, none, neither, nor, cannot, zero`);

/** Words past which a denial does not reach: "not clear unless I drop my chin". */
export const denialEnds = phrases(
  `and, unless, until, till, without, if, when, whenever, because, so, since, cause, which, that, as, than, while, where, just, except, then`,
);

/** Turns with a word of denial in them that deny nothing about what follows. */
export const notDenials = phrases(`
not only, not just, no doubt, no idea why, no idea how, not know why, not know how, no matter, not sure, not sure if, not sure whether, no word of a lie, no joke, no lie, why not, no wonder, not being funny, not to mention, not gonna lie, not going to lie, not lying, not to be rude, not cross, cannot believe, can not believe, can not wait, can not thank, can not help, cannot help, can not stop, could not stop, does not stop, do not stop, did not stop, will not stop, never stops, not stop, not happy, not great, not good, not right, not impressed, not best pleased, not pleased, not know if, not know whether, not mind, never mind, not think, no good, no use, not funny, not a hope, not being difficult, not sleep, no sooner, not half, no thanks, no thank you, not worth, not long, not matter, not fun, not ideal, not nice, not acceptable, not on, not getting any, not tell, no longer, not anymore, not moaning, not complaining, not fussy, not one to, not wanting to, not want to, not used to, not easy, not notice, not noticed till, not work out, not like, not stand, not bear, not cope, not get on, without warning, not before time, not even, not everything, not everyone, not every, not quite, not always, not entirely, not me, not my old, not in my old, not with my old, not the lens
`);
