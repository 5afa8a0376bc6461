"""What invented clients write under their sessions, in their goals and about pain: short, and human."""

PLAIN = (
    "Short on sleep, went fine all the same.",
    "Did it in the garage, cold hands.",
    "The dog lay under the bench again.",
    "Felt strong today.",
    "Rushed, meeting at nine.",
    "New shoes, better grip.",
    "Kids joined in for the last set.",
    "Long day, glad I did it.",
    "First warm evening, trained outside.",
    "Counted out loud, that helps.",
    "Neighbour asked what the thumping was.",
    "Easy until the last set.",
    "Had to split it, phone rang in between.",
    "Slept badly, took the rests a bit longer.",
    "Music off, much calmer.",
    "Back home at last, own kit again.",
    "Grip went before the legs did.",
    "Watched my elbows as you said.",
    "A little stiff from the garden.",
    "Best one this month.",
)
SHORT = {
    "reps short": ("Could not get the last ones.", "Stuck half way up.", "Legs gone by the last set."),
    "sets short": ("Skipped the last set, nothing left.", "Ran out of time for the last set.", "One set less, sorry."),
    "goes lighter half way": ("Dropped the weight after two sets.", "Form got ugly, went lighter.", "Too heavy today."),
    "stays at the load before the step": (
        "Stayed with the old one.",
        "The next one looks big.",
        "Not sure I dare yet.",
    ),
    "has reps to spare": ("Could have gone on.", "That was light.", "Plenty left at the end."),
    "takes more than asked": ("Tried the next one up.", "Took the heavier pair by mistake."),
    "leaves it out": ("No room for that one.", "Left one out, again.", "That one bores me."),
}
CUT = ("Had to stop, doorbell.", "Half of it, baby woke up.", "Ended early, train to catch.")
OVERLONG = ("Took for ever, slow start.", "Long talk in between.", "Kept looking for my plates.")
PAIN_HIGH = ("Sharp in the {region} on the second set. Stopped.", "The {region} again, worse. Stopped there.")
PAIN_SOME = ("{region} complained on the way down.", "Felt the {region}, not muscle.", "A pinch in the {region}.")
PAIN_LESS = ("{region} much better.", "{region} quiet today.")
BACK_AGAIN = ("Back again. Good to move.", "First one after the break.", "Slow, but here.")
GOALS = (
    "Carry both shopping bags up to the fourth floor without a stop",
    "Ten clean push-ups before my birthday",
    "Lift my niece overhead without a word from my back",
    "A whole season on the allotment with no sore knees",
    "Get the canoe on the roof of the car alone",
    "Swing the 24 for twenty",
    "Be able to get up from the floor without hands",
    "Stand through a double shift and still feel my feet at night",
    "Hike the ridge with a full pack in September",
    "Press half of what I weigh",
    "Feel strong again after two years at a desk",
    "Keep up with my daughter on the climbing wall",
    "Move the piano with my brother, for once as the one below",
    "Sleep better, and shoulders that don't ache from the bike",
    "A first proper chin-up",
    "Come through ski week without sore legs",
    "Carry hay bales all of July",
    "Squat down to the oven and back up like nothing",
    "Stronger legs for the long stairs at work",
    "Train three times a week for half a year, that alone",
)
EXTRA = ("Bonus, the sun was out.", "Felt like moving.", "With a friend.")
SECOND = ("Did the rest of it this morning.", "One more round of that.")
