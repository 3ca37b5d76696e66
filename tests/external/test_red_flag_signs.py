"""Published warning signs, said as a member would say them, lead to the published level of urgency.

Signs and levels are from the safety evidence; each row names the sign's sources (`library/sources.yaml`), all read in
the source itself (primary) or quoted by another page (secondary); signs known from memory alone are left out. The
sentences are our own and are not taken from the records' phrases. The level is the published one; no tolerance is
given downwards. Upwards only where a row says so: when words fit two signs, the more urgent reading stands.

Ordinary sentences of a gym are the other side: a coach who is sent to the telephone by "that workout killed me"
stops reading. They are common practice, no source.
"""

import pytest

from subgraph.library.compile import Compiled
from subgraph.referral import hear, refer

EMERGENCY, URGENT, CLINICIAN = "emergency", "urgent", "clinician"

# group, sources of the sign, published level, sentence
SIGNS = [
    # heart: stop, sit, call (nz_heart_attack and nhs_heart_attack: pressure, weight or squeezing, effort or not)
    ("cardiac", "nz_heart_attack", EMERGENCY, "There's a heavy weight pressing on my chest since the second round"),
    ("cardiac", "nz_heart_attack", EMERGENCY, "My chest feels really tight, it went off when I sat down"),
    ("cardiac", "nhs_heart_attack", EMERGENCY, "it is like someone is standing on my chest"),
    ("cardiac", "nhs_heart_attack", EMERGENCY, "I get an ache in my jaw and left arm when I row hard"),
    ("cardiac", "nhs_heart_attack", EMERGENCY, "I've come over all clammy and sick and my arm feels heavy"),
    ("cardiac", "nhs_heart_attack, first_aid", EMERGENCY, "she went down by the rower and she isn't breathing"),
    ("cardiac", "nhs_heart_attack, first_aid", EMERGENCY, "he dropped and won't respond to us"),
    ("cardiac", "nhs_faint, rcgp_syncope", EMERGENCY, "I blacked out in the middle of the run"),
    ("cardiac", "nhs_faint, rcgp_syncope", EMERGENCY, "I almost passed out halfway through the sprints"),
    ("cardiac", "nhs_faint, rcgp_syncope", URGENT, "went light headed once I stopped and had to lie down"),
    ("cardiac", "nhs_faint, rcgp_syncope", URGENT, "felt woozy as I got up off the floor after the set"),
    ("cardiac", "nhs_faint, nz_heart_attack", EMERGENCY, "heart is pounding all over the place and I feel faint"),
    ("cardiac", "cry_symptoms", URGENT, "my heart keeps skipping beats this week, otherwise I feel fine"),
    ("cardiac", "cry_symptoms", URGENT, "ten minutes on the bench and my pulse still won't come down"),
    ("cardiac", "cry_symptoms", CLINICIAN, "my brother died suddenly playing football at 31"),
    ("cardiac", "aha_hypertensive_crisis", EMERGENCY, "my blood pressure was 190 over 125 and I have a headache"),
    ("cardiac", "aha_hypertensive_crisis, acsm_cepa_forum", URGENT, "machine said 184 over 96 for my blood pressure"),
    # nerves: face, arm, speech, sight, balance (befast); worst headache at once (nhs_headache)
    ("neuro", "befast", EMERGENCY, "one side of her face has dropped"),
    ("neuro", "befast", EMERGENCY, "he's slurring his words"),
    ("neuro", "befast", EMERGENCY, "my right arm suddenly went weak and won't do what I tell it"),
    ("neuro", "nhs_headache", EMERGENCY, "sudden headache under the bar, the worst I have ever had"),
    ("neuro", "seizure_cdc", EMERGENCY, "he had a seizure on the mat and he's never had one before"),
    ("neuro", "seizure_cdc", EMERGENCY, "she's fitting on the floor, it has been six minutes"),
    ("neuro", "altru_vertigo, nhs_vertigo", EMERGENCY, "everything is spinning and I'm seeing double"),
    ("neuro", "ccgi_neck, finucane2020", URGENT, "pins and needles in both hands since Tuesday"),
    # spine: saddle numbness, bladder, both legs (nhs_cauda); arteries of the neck (cad1994)
    ("spine", "nhs_cauda, ouh_cauda", URGENT, "my back's bad and I've gone numb between the legs"),
    ("spine", "nhs_cauda, ouh_cauda", URGENT, "since the deadlifts I can't pee properly"),
    ("spine", "nhs_cauda, ouh_cauda", URGENT, "pain is shooting down both legs now"),
    ("spine", "nhs_cauda, lbp_cpg2021", URGENT, "back pain and my foot keeps dragging, it's getting weaker"),
    ("spine", "stiell2001, ccgi_neck", EMERGENCY, "I fell off the rope onto my head and my fingers tingle"),
    ("spine", "cad1994, acep_cad", EMERGENCY, "sharp pain one side of my neck and my eyelid is drooping"),
    ("spine", "cad1994", URGENT, "I've never had a neck pain like this before, all down the one side"),
    ("spine", "ccgi_neck", URGENT, "I get electric shocks down my spine when I look at my feet"),
    ("spine", "ccgi_neck, osteoporosis2022", URGENT, "I've got osteoporosis and my back went with a sharp crack"),
    ("spine", "ccgi_neck, finucane2020", URGENT, "my back hurts all night whatever way I lie and I've a fever"),
    # injury: ottawa_umem (four steps), glos_knee (pop and swelling, locked), bupa_achilles (pop, no tiptoe)
    ("trauma", "ottawa_umem", URGENT, "rolled my ankle on the box and I can't put weight on it"),
    ("trauma", "glos_knee", URGENT, "my knee popped when I landed and it's ballooned"),
    ("trauma", "glos_knee", URGENT, "my knee is stuck and won't straighten"),
    ("trauma", "glos_knee", URGENT, "I came down from the jump and now I can't lift my leg up straight"),
    ("trauma", "bupa_achilles", URGENT,
     "felt like someone kicked me in the back of the ankle, can't go up on my toes"),
    ("trauma", "golshani2018", URGENT,
     "something tore by my armpit on the bench and there's a dent in my chest muscle"),
    ("trauma", "fnsf2017, statpearls_stress", URGENT, "deep ache in my groin with every step when I run"),
    ("trauma", "statpearls_stress, nhs_mtss", CLINICIAN, "there's a single spot on my shin bone that hurts at night"),
    ("trauma", "becker2014", EMERGENCY, "took the kettlebell in the ribs, belly pain is growing and I feel faint"),
    # vessels: clots, calf and lung (nhs_pe), arm (effort_thrombosis); tight compartments (nhs_compartment)
    ("vascular", "nhs_pe, alf_pe", URGENT, "one calf is swollen and warm since the long flight"),
    ("vascular", "alf_pe, nhs_pe", EMERGENCY, "sharp pain whenever I breathe in and I'm suddenly breathless"),
    ("vascular", "alf_pe, nhs_pe", EMERGENCY, "I coughed up some blood this morning"),
    ("vascular", "effort_thrombosis, uptodate_uedvt", URGENT, "after pull-ups my whole arm is puffy and a bit blue"),
    ("vascular", "nhs_compartment", EMERGENCY, "my shin is tight like a drum, hugely painful and going numb"),
    ("vascular", "nhs_compartment", CLINICIAN, "my shins go numb at the same point in every run"),
    # heat: casa2015 and mok2017 (confused and hot), nhs_heat (clear in the head); too much water: hewbutler2015
    ("heat", "mok2017, casa2015", EMERGENCY, "she is boiling hot and talking nonsense, really confused"),
    ("heat", "demartini2015, casa2015", EMERGENCY, "he's staggering about in this heat"),
    ("heat", "nhs_heat, acsm_heat2007", URGENT, "I feel sick and dizzy in this heat but I know where I am"),
    ("heat", "hewbutler2015, rogers2009", EMERGENCY,
     "he drank litres and litres of water and now he's confused and vomiting"),
    # muscle breakdown: cdc_rhabdo (urine), suzuki2017 (arms); sickle trait: ncaa_sct
    ("exertional-rhabdomyolysis", "cdc_rhabdo, scalco2016", URGENT,
     "my wee has been the colour of cola since Saturday"),
    ("exertional-rhabdomyolysis", "suzuki2017, hirota_case", URGENT,
     "two days after all those pull-ups I can't straighten my elbows"),
    ("exertional-rhabdomyolysis", "suzuki2017, cdc_rhabdo", URGENT,
     "my arms have ballooned and it is worse than any soreness I know"),
    ("exertional-rhabdomyolysis", "ncaa_sct, nata_sct", EMERGENCY,
     "she has sickle trait and her legs have just gone weak"),
    # infection: uksepsis, healthinfo_septic, ccgi_neck
    ("infection", "uksepsis", EMERGENCY, "my cut got infected and now I'm shivering and muddled, confused really"),
    ("infection", "healthinfo_septic", URGENT, "my knee is red hot and swollen and I've got a fever"),
    ("infection", "ccgi_neck, uksepsis", EMERGENCY, "stiff neck, high temperature and the light hurts"),
    # pregnancy and after: ucd_pregnancy, nhs_preeclampsia, goom2019
    ("pregnancy", "ucd_pregnancy", URGENT, "I'm 30 weeks pregnant and I've had some bleeding"),
    ("pregnancy", "ucd_pregnancy", URGENT, "I think my waters have gone, there is fluid leaking"),
    ("pregnancy", "ucd_pregnancy", URGENT, "baby hasn't moved much today"),
    ("pregnancy", "ucd_pregnancy", URGENT, "my bump keeps tightening every few minutes"),
    ("pregnancy", "ucd_pregnancy", EMERGENCY, "I'm pregnant and I fainted in the warm-up"),
    ("pregnancy", "ucd_pregnancy", URGENT, "pregnant, and my left calf is swollen and sore"),
    ("pregnancy", "nhs_preeclampsia", URGENT, "I'm pregnant and have a bad headache with blurry vision"),
    ("pregnancy", "goom2019", CLINICIAN, "it feels as if something is coming down, a dragging feeling below"),
    # diabetes: hse_hypo, turner2019
    ("diabetes", "hse_hypo, turner2019", URGENT, "I'm diabetic and I've gone shaky and sweaty"),
    ("diabetes", "hse_hypo, turner2019", URGENT, "my sugar's dropped to 3.4"),
    ("diabetes", "hse_hypo", EMERGENCY, "he's diabetic and he's not responding"),
    # breathing and allergy: nhs_asthma, hk_asthma, nhs_anaphylaxis
    ("asthma-anaphylaxis", "nhs_asthma, asthma_ie", EMERGENCY,
     "my inhaler isn't doing anything and I can't finish a sentence"),
    ("asthma-anaphylaxis", "nhs_asthma, asthma_ie", EMERGENCY, "her lips are going blue"),
    ("asthma-anaphylaxis", "hk_asthma", URGENT, "I was wheezing but I took my puffer and it's better now"),
    ("asthma-anaphylaxis", "nhs_anaphylaxis, anaphylaxis_uk", EMERGENCY,
     "my tongue is swelling and I feel my throat closing up"),
    ("asthma-anaphylaxis", "nhs_anaphylaxis, anaphylaxis_uk", EMERGENCY, "hives all over and I'm getting dizzy"),
    # head and eye: crt6, ais_concussion, nice_ng232, coo_retina, befast
    ("eye-head", "crt6, ais_concussion", EMERGENCY, "banged my head on the rig and I've been sick twice"),
    ("eye-head", "crt6, ais_concussion", EMERGENCY, "she was knocked out for a few seconds"),
    ("eye-head", "ais_concussion, patricios2023", URGENT, "I whacked my head on the bar and I've felt foggy since"),
    ("eye-head", "nice_ng232, npsa_headinjury", URGENT, "I bumped my head, I feel fine but I'm on blood thinners"),
    ("eye-head", "coo_retina", URGENT, "there's a dark curtain coming across my eye"),
    ("eye-head", "coo_retina", URGENT, "loads of new floaters since yesterday's lifting"),
    ("eye-head", "befast", EMERGENCY, "I lost the sight in my left eye for a minute"),
    # belly: nhs_hernia
    ("abdominal", "nhs_hernia", EMERGENCY, "my hernia has gone hard and won't push back in"),
    ("abdominal", "nhs_hernia", EMERGENCY, "lump in my groin is suddenly really painful and I feel sick"),
    # mind: nidirect_crisis, mindwell; too little food: reds2023
    ("mental-distress", "nidirect_crisis, mindwell", EMERGENCY, "I don't want to be alive any more"),
    ("mental-distress", "nidirect_crisis, mindwell", EMERGENCY, "I've been thinking about killing myself"),
    ("mental-distress", "nidirect_crisis, mindwell", EMERGENCY, "I took all my tablets last night"),
    ("mental-distress", "reds2023", CLINICIAN, "I haven't had a period since spring and I've lost a lot of weight"),
]  # fmt: skip

ORDINARY = [
    "that workout killed me",
    "my arms are dead after all those pull-ups",
    "knocked out twenty burpees without stopping",
    "I blew up on the rower in the last round",
    "chest to bar pull-ups are still not there",
    "bench day, chest is pumped",
    "my legs are like jelly after the lunges",
    "I was gasping after the 400s",
    "knees collapsed in on that last squat",
    "heart rate was 175 at the end",
    "I can't do a strict pull-up yet",
    "I can't feel my legs after that workout",
    "shoulders feel tight today, slept on them funny",
    "hamstrings are tight from yesterday",
    "my grip gave out on the deadlifts",
    "calves are sore from the double-unders",
    "tore my hand on the bar last week, all healed",
    "I have a big blister on my palm",
    "low back feels a bit stiff this morning",
    "my knee clicks but it doesn't hurt",
    "I hit a PR on my clean",
    "the band snapped but nobody got hurt",
    "blue band for pull-ups please",
    "I only slept five hours",
    "red face as always in this heat of the competition",
    "I'm a bit out of breath, give me a minute",
    "can we do the second heat together",
    "I feel great, ready to go",
    "wall balls make my quads burn",
    "I'm new and nervous about the rope",
    "my wrists don't like front squats",
    "haven't trained for two weeks, was on holiday",
    "I can't jump today, my daughter is asleep downstairs",
    "I'd rather not run, the shoes are new",
    "left my lifting shoes at home",
    "I can't go on the bike this week, the saddle is loose",
    "can't go up on my toes in these boots",
    "I felt heavy today, no spring in the legs",
    "sick of burpees, can we swap them",
    "lost my balance on the box and laughed",
    "the rope hit my shins again",
    "drank too much water before class",
    "my left side is weaker on split squats",
    "tight calves after the flight, rolled them out",
    "had a baby last year and I'm back to full training",
]

# Words that also fit a graver sign: the more urgent reading may stand.
UPWARDS = {
    "I'm pregnant and have a bad headache with blurry vision": "blurred sight alone may be a loss of sight (befast)",
}


@pytest.mark.parametrize(("group", "source", "level", "sentence"), SIGNS, ids=[r[3] for r in SIGNS])
def test_a_published_sign_leads_to_its_level(
    compiled: Compiled, group: str, source: str, level: str, sentence: str
) -> None:
    referral, _ = refer(compiled.library, [sentence], [])
    assert referral is not None, f"{source}: not heard"
    if sentence in UPWARDS:
        assert referral.level in (level, EMERGENCY), f"{source}: {referral.flags}"
    else:
        assert referral.level == level, f"{source}: {referral.flags}"


@pytest.mark.parametrize("sentence", ORDINARY)
def test_an_ordinary_sentence_refers_nobody(compiled: Compiled, sentence: str) -> None:
    referral, _ = refer(compiled.library, [sentence], [])
    assert referral is None, referral.flags


def test_every_group_of_the_records_is_spoken_for(compiled: Compiled) -> None:
    assert {flag.group for flag in compiled.library.red_flags.values()} == {row[0] for row in SIGNS}


def test_sources_of_the_signs_are_known(compiled: Compiled) -> None:
    named = {source for row in SIGNS for source in row[1].split(", ")}
    assert named <= set(compiled.library.sources)


# A plain denial lowers a sign to a question and never to silence (nz_heart_attack: ask about the chest).
@pytest.mark.parametrize("sentence", ["no chest pain at all", "I never fainted", "not dizzy after the set"])
def test_a_denied_sign_is_still_asked_about(compiled: Compiled, sentence: str) -> None:
    heard = hear(compiled.library, sentence)
    assert not heard.standing
    assert heard.to_ask
