/**
 * Ordinary words that stand near a word of the lexicon and must never be taken for a misspelling of it: those of
 * Debian's British and American word lists (SCOWL) within the reach of `nearestWord`.
 */
export const guardWords: ReadonlySet<string> = new Set(
  `
anointment appointment appointments arrive arrives babbles batter beater betted bettor bitter
bleariness blench bletch bloodroot bloodshed bloodsport blurriest blurted bobbles braised breach
bride bridle brilliance brilliancy brilliantly bruiser bruited bubbler bubblers bumbles burbles
burliness burry certain chunter clashed coacting coaling coaming coasting coaxing colourer
comfortable comfortably commuter compute computed computes conformable cooked costing coulter courter
crasher crating crimp crispy croaked crocked crooned curtail danker darer darner darter deliver
delivered deliverer deliverers delivers deriving dinginess dirtiness discorded disgorged disported
distastes distortedly distorter disturbed dittanies ditzy doable doubler doublet doubly doubted
doubting excellence excellency excellently expellant fantastical ficus fizzy flasher flashers
flashest fleshes fleshing flouters flushes flushing fucus furzy gasses glosses greet groat hales
halons haply harpy hippy imploding imploring importing improving improvise improvising leases manager
managers manger massages messuages moaning monitory monkey mopey mosey mourning nuclear numbed
optician opticians orderer outride outsider outsize pailful panful parson pealing pease peeing
peeking peeving perfecta perfecto peripherally peripteral perron persona photochromy pincher pinchers
pleas please pleased pleases prefect prescriptive progresses progressions progressively proscription
proscriptions purpler question questions readying reaming reaping reaving receive received receiver
receives redstart reeding reelection reelections refection reflation reflations reflecting reflection
reflectional reflections reflective reflector reflectors refound refraction refractions rejection
rejections relume remove removed remover removes rending repletion resection resections reselection
restart restarts resume resumed resumes rewove sandglasses scarp scratcher scratchier scratchiest
scratchpad scree screeched screeches screed screes selves settle settler settles shadowy share shark
sharpy sheaf sheaves shell shelve shelved shimming sipping skimming skipping slapping slaying slices
slicing slider sliders slimes slimming snipping soddenly sopped spaying spectacle spectacled
spectates splinting sprinting spyglasses squinching squintier squirt squirting squishing stirs
stomped stooped stopper stoppled strainer straitening stranding striating stringing stropped stumbler
subclasses suint surtitles swaging swopped tainted televising televisor templet templets tented
tenting thousand thousands tincted tinter traditions transactions transiting transitional transitives
translations trapped tripled tripper trippet unclean unsubscribe unsubscribed unsubscribes virion
waring weaning weaving widescreen wonderfully wring wrung
`
    .trim()
    .split(/\s+/u),
);
