"""Complaint profiles hold back what the published advice holds back.

Each row names its source (`library/sources.yaml`) and how it was seen; advice known from memory alone is left out. A
profile lists the highest grade still offered when settled, sore and flared; a demand that it does not list is free
(grade 3). Advice is rarely in grades, so a row says how the words were read; a profile may always be stricter.
"""

import pytest

from subgraph.library.compile import Compiled
from subgraph.library.records import IRRITABILITIES, Complaint

FREE = (3, 3, 3)


def limit(profile: Complaint, demand: str) -> tuple[int, int, int]:
    return profile.at_most.get(demand, FREE)


# profile, demand, most when settled / sore / flared, source, seen, how the advice was read
ROWS = [
    # after birth
    ("postpartum-early", "landing", (1, 1, 1), "goom2019", "primary",
     "no impact before 12 weeks: nothing with flight"),
    ("postpartum-early", "fast-hip", (1, 1, 1), "goom2019", "primary", "no running before 12 weeks"),
    ("postpartum-late", "landing", (2, 1, 1), "goom2019", "primary", "from 12 weeks, and none with symptoms"),
    ("leaking", "landing", (2, 1, 1), "nygaard2016", "primary", "leaking is commonest in high impact"),
    # pregnancy
    ("pregnancy-2", "supine", (1, 1, 1), "nhs_pregnancy", "primary",
     "not long on the back after 16 weeks; short spells may be"),
    ("pregnancy-3", "supine", (1, 1, 1), "nhs_pregnancy", "primary", "not long on the back after 16 weeks"),
    ("pregnancy", "supine", (1, 1, 1), "nhs_pregnancy", "primary", "week unknown: as if past 16"),
    ("pregnancy-1", "heart-rate", (2, 2, 2), "csep2019", "primary", "moderate, can talk but not sing: never all-out"),
    ("pregnancy-2", "heart-rate", (2, 2, 2), "csep2019", "primary", "moderate, can talk but not sing: never all-out"),
    ("pregnancy-3", "heart-rate", (2, 2, 2), "csep2019", "primary", "moderate, can talk but not sing: never all-out"),
    ("pregnancy-2", "fall-height", (1, 1, 1), "nhs_pregnancy", "primary", "nothing with a risk of falling"),
    ("pregnancy-3", "fall-height", (1, 1, 1), "nhs_pregnancy", "primary", "nothing with a risk of falling"),
    # heart and blood
    ("hypertension", "straining", (2, 1, 1), "intraarterial_bp_rt", "primary",
     "failure adds 75 to 80 mmHg at any load: none to failure"),
    ("heart-disease", "heart-rate", (1, 1, 1), "acsm_getp10", "secondary",
     "moderate is 3 to 5.9 METs; more needs clearance"),
    ("blood-donated", "straining", (1, 1, 0), "blood_uk", "primary", "no heavy lifting for the day"),
    ("blood-donated", "heart-rate", (2, 1, 0), "blood_uk", "primary", "no hard exercise for the day"),
    ("blood-donated", "fall-height", (1, 0, 0), "blood_fi", "primary", "nothing where a faint is dangerous"),
    ("diabetes-insulin", "fall-height", (2, 1, 0), "turner2019", "primary",
     "after a low nothing where a faint is dangerous"),
    ("diabetes-insulin", "hang", (3, 1, 0), "turner2019", "primary", "after a low not on the rig"),
    ("sickle-trait", "heart-rate", (2, 2, 1), "nata_sct", "primary", "no all-out work beyond 2 to 3 minutes"),
    ("sickle-trait", "fast-hip", (2, 2, 1), "ncaa_sct", "primary", "no repeated timed sprints"),
    ("heat-new", "heart-rate", (2, 1, 1), "acsm_heat2007", "secondary", "people not used to heat: no hard efforts"),
    # bones
    ("osteoporosis", "spine-flexion", (1, 1, 0), "osteoporosis2022", "primary",
     "straight: bend at the hips, no loaded or end-range rounding"),
    ("osteoporosis", "landing", (2, 1, 1), "osteoporosis2022", "primary",
     "moderate impact; with a spine fracture up to brisk walking"),
    ("osteoporosis", "axial", (2, 2, 2), "physio_update_osteo", "primary",
     "loads that can be lifted 8 to 12 times, no single efforts"),
    # arm
    ("shoulder-cuff", "overhead", (2, 1, 0), "painful_arc_page", "secondary",
     "raising hurts between 60 and 120 degrees"),
    ("shoulder", "overhead", (2, 1, 0), "painful_arc_page", "secondary", "raising hurts between 60 and 120 degrees"),
    ("shoulder-unstable", "overhead", (1, 1, 1), "hull_dislocation", "primary",
     "overhead work puts it out again; 21 to 39 % do"),
    ("shoulder-stiff", "overhead", (1, 1, 1), "nhs_frozen", "primary", "the arm cannot rise for months"),
    ("shoulder-stiff", "hang", (1, 1, 1), "nhs_frozen", "primary", "the arm cannot rise for months"),
    ("shoulder-ac", "dip", (1, 1, 0), "acj_pages", "secondary", "dips and elbows dropping behind the body provoke"),
    ("shoulder-ac", "press", (2, 2, 1), "acj_pages", "secondary", "pressing provokes"),
    ("carpal-tunnel", "grip", (2, 1, 1), "cts_page", "secondary", "long gripping provokes"),
    # leg
    ("shin-splints", "landing", (1, 1, 1), "nhs_mtss", "primary", "off the provoking impact for about two weeks"),
    ("knee-kneecap", "knee-flexion", (2, 1, 1), "pfp_cpg2019", "primary", "squatting and stairs provoke"),
    ("knee-kneecap", "landing", (2, 1, 1), "pfp_cpg2019", "primary", "jumping and running provoke"),
    ("knee-tendon", "landing", (2, 1, 1), "malliaras2015", "primary", "energy storage provokes"),
    ("hip-front", "hip-flexion", (2, 1, 1), "lamontagne2009", "primary", "people with this hip squat less deep"),
    ("hip-side", "landing", (2, 1, 1), "gluteal_page", "secondary", "less hopping and bounding"),
    ("adductor", "fast-hip", (1, 1, 1), "adductor_delphi", "primary", "sprint, kick and change of direction provoke"),
    ("hamstring-pulled", "fast-hip", (1, 1, 1), "erickson2017", "primary",
     "one third come back within a year; fast running is last"),
    # other
    ("hernia", "straining", (1, 1, 1), "nhs_hernia", "secondary", "heavy lifting makes it hurt"),
    ("hernia", "axial", (2, 1, 1), "nhs_hernia", "secondary", "heavy lifting makes it hurt"),
    ("surgery", "straining", (1, 1, 0), "hernia_recovery", "secondary", "4 to 8 weeks without heavy lifting"),
    ("vertigo", "supine", (1, 0, 0), "bppv_nhs", "primary", "lying down and turning over set it off"),
    ("vertigo", "head-motion", (1, 1, 1), "bppv_nhs", "primary", "quick changes of position set it off"),
    ("newcomer", "pull", (3, 2, 1), "springer2003", "primary", "new loaded lowering: less as soon as it is sore"),
    ("newcomer", "straining", (2, 2, 1), "smoot2013", "primary", "no sets to failure in the first weeks"),
    ("deconditioned", "heart-rate", (2, 1, 1), "riebe2015", "secondary", "inactive: begin light to moderate"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("profile", "demand", "most", "source", "seen", "reading"), ROWS, ids=[f"{r[0]}-{r[1]}" for r in ROWS]
)
def test_a_profile_holds_back_what_the_source_does(
    compiled: Compiled, profile: str, demand: str, most: tuple[int, int, int], source: str, seen: str, reading: str
) -> None:
    assert seen in {"primary", "secondary"}
    held = limit(compiled.library.complaints[profile], demand)
    for state, offered, allowed in zip(IRRITABILITIES, held, most, strict=True):
        assert offered <= allowed, f"{source}, {state}: {reading}"


def test_nothing_gets_freer_as_it_gets_sorer(compiled: Compiled) -> None:
    # silbernagel2007, pain_model_page (secondary): more pain means less load, never more
    freer = [
        (profile.id, demand)
        for profile in compiled.library.complaints.values()
        for demand, grades in profile.at_most.items()
        if not grades[0] >= grades[1] >= grades[2]
    ]
    assert not freer


# profile, level: sent on instead of trained (concussion: patricios2023; glandular fever: becker2014, 3 to 8 weeks)
SENT_ON = [("concussion-suspected", "urgent"), ("concussion", "clinician"), ("mono", "clinician")]


@pytest.mark.parametrize(("profile", "level"), SENT_ON, ids=[r[0] for r in SENT_ON])
def test_some_profiles_are_sent_on(compiled: Compiled, profile: str, level: str) -> None:
    record = compiled.library.complaints[profile]
    assert record.refer
    assert record.refer_level == level


def allowed(profile: Complaint, demands: dict[str, int], state: int) -> bool:
    return all(demands.get(demand, 0) <= grades[state] for demand, grades in profile.at_most.items())


# goom2019 (primary): before 12 weeks after birth no running and no other repeated impact, in any state.
@pytest.mark.parametrize("state", range(3), ids=IRRITABILITIES)
def test_no_run_and_no_jump_before_twelve_weeks(compiled: Compiled, state: int) -> None:
    profile = compiled.library.complaints["postpartum-early"]
    offered = [
        m.id
        for m in compiled.library.movements.values()
        if {"run", "jump"} & set(m.traits) and m.grade("landing") >= 1 and allowed(profile, m.demands, state)
    ]
    assert not offered


# profile, state, records that the source takes away, source
AWAY = [
    ("postpartum-early", 0, ["run", "jog", "double-under", "single-under", "box-jump", "burpee", "jumping-jack"],
     "goom2019"),
    ("postpartum-late", 1, ["run", "double-under", "box-jump", "jumping-jack"], "goom2019"),
    ("rib", 2, ["row", "row-easy", "ski"], "rib_rowers2016"),
    ("rib", 1, ["row", "ski"], "rib_rowers2016"),
    ("pregnancy-2", 0, ["bench-press", "rope-climb", "box-jump", "freestanding-handstand"], "nhs_pregnancy"),
    ("pregnancy-3", 0, ["bench-press", "rope-climb", "box-jump", "freestanding-handstand"], "nhs_pregnancy"),
    ("osteoporosis", 0, ["sit-up", "toes-to-bar", "glute-ham-sit-up", "v-up"], "osteoporosis2022"),
    ("osteoporosis", 2, ["run", "box-jump", "double-under", "jumping-jack"], "osteoporosis2022"),
    ("shoulder-unstable", 0, ["squat-snatch", "push-jerk", "overhead-squat", "strict-press"], "hull_dislocation"),
    ("shoulder-stiff", 0, ["dead-hang", "strict-pull-up", "overhead-squat"], "nhs_frozen"),
    ("shoulder-cuff", 1, ["strict-press", "push-jerk", "kipping-pull-up", "handstand-push-up"], "painful_arc_page"),
    ("shoulder-ac", 0, ["bar-dip", "ring-dip", "bench-dip", "bench-press"], "acj_pages"),
    ("blood-donated", 0, ["rope-climb", "deadlift", "sprint"], "blood_uk"),
    ("sickle-trait", 0, ["sprint", "shuttle-run", "hill-sprint"], "ncaa_sct"),
    ("shin-splints", 0, ["run", "jog", "double-under", "box-jump"], "nhs_mtss"),
    ("knee-tendon", 1, ["box-jump", "double-under", "broad-jump", "sprint"], "malliaras2015"),
    ("knee-kneecap", 1, ["pistol", "jumping-lunge", "box-jump", "back-squat"], "pfp_cpg2019"),
    ("hamstring-pulled", 0, ["sprint", "shuttle-run"], "erickson2017"),
    ("diabetes-insulin", 2, ["rope-climb", "overhead-squat", "handstand-hold", "strict-pull-up"], "turner2019"),
    ("newcomer", 0, ["kipping-pull-up", "depth-jump", "rope-climb"], "smoot2013"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("profile", "state", "records", "source"), AWAY, ids=[f"{r[0]}-{IRRITABILITIES[r[1]]}" for r in AWAY]
)
def test_what_the_source_takes_away_is_not_offered(
    compiled: Compiled, profile: str, state: int, records: list[str], source: str
) -> None:
    library = compiled.library
    offered = [r for r in records if allowed(library.complaints[profile], library.movements[r].demands, state)]
    assert not offered, source


# profile, state, records that the source keeps, source
KEPT = [
    ("osteoporosis", 0, ["goblet-squat", "jog"], "osteoporosis2022"),
    ("osteoporosis", 2, ["walk", "brisk-walk"], "osteoporosis2022"),
    ("pregnancy-2", 0, ["walk", "bike-easy", "goblet-squat"], "csep2019"),
    ("pregnancy-3", 0, ["walk", "bike-easy"], "csep2019"),
    ("leaking", 1, ["walk", "brisk-walk"], "nygaard2016"),
    ("knee-arthritis", 1, ["bike-easy", "walk", "sit-to-stand"], "nice_ng226"),
    ("hip-arthritis", 1, ["bike-easy", "walk"], "nice_ng226"),
    ("achilles-mid", 1, ["calf-raise", "walk"], "silbernagel2007"),
    ("ankle-sprain", 0, ["walk", "single-leg-balance", "calf-raise"], "ankle_cpg2021"),
    ("asthma", 0, ["run", "row"], "stickland2012"),
    ("med-beta", 0, ["walk", "row-easy", "goblet-squat"], "mayo_beta"),
    ("older-adult", 0, ["single-leg-balance", "sit-to-stand", "goblet-squat"], "who2020"),
    ("sickle-trait", 0, ["walk", "jog", "goblet-squat"], "ncaa_sct"),
    ("rib", 2, ["walk"], "rib_rowers2016"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("profile", "state", "records", "source"), KEPT, ids=[f"{r[0]}-{IRRITABILITIES[r[1]]}" for r in KEPT]
)
def test_what_the_source_keeps_is_still_offered(
    compiled: Compiled, profile: str, state: int, records: list[str], source: str
) -> None:
    library = compiled.library
    missing = [r for r in records if not allowed(library.complaints[profile], library.movements[r].demands, state)]
    assert not missing, source


# What usually provokes a complaint, as the evidence tags it, and the demands that can hold it back (any of them).
# `seen` is that of the complaint's record in the evidence; the tags are its summary of the sources. A tag that the
# library has split has two demands. No tolerance: every tag needs a limit in at least one state.
DEMANDS_OF_TAG = {
    "loaded shoulder elevation": {"overhead"},
    "hang": {"hang"},
    "ballistic hang": {"hang"},
    "horizontal press": {"press"},
    "end-range shoulder extension": {"dip"},
    "grip": {"grip"},
    "loaded wrist extension": {"wrist-extension"},
    "loaded elbow flexion": {"pull"},
    "neck load": {"neck"},
    "axial spine load": {"axial"},
    "repeated spine flexion": {"spine-flexion"},
    "repeated spine rotation": {"spine-rotation"},
    "hinge": {"hinge"},
    "deep loaded knee flexion": {"knee-flexion"},
    "knee extension at speed": {"fast-hip", "landing"},
    "landings": {"landing"},
    "achilles elastic load": {"calf-elastic"},
    "deep hip flexion": {"hip-flexion"},
    "adductor stretch": {"adductor"},
    "lying prone": {"prone"},
    "lying supine": {"supine"},
    "upside down": {"inversion"},
    "straining": {"straining"},
    "balance": {"balance", "fall-height"},
    "getting down and up": {"floor-transfer"},
    "heart rate": {"heart-rate"},
    "ankle inversion": {"ankle"},
    "single-leg load": {"single-leg"},
    "hamstring lengthening": {"hamstring-stretch"},
    "high-speed hip": {"fast-hip"},
    "bar contact on the shoulder": {"bar-contact", "rack"},
}

# profile, sources, seen, tags
TAGS = [
    ("shoulder-cuff", "painful_arc_page, golshani2018", "secondary",
     "loaded shoulder elevation, ballistic hang, hang, end-range shoulder extension, horizontal press"),
    ("shoulder-unstable", "hull_dislocation, jat_instability2024", "primary",
     "ballistic hang, hang, loaded shoulder elevation, end-range shoulder extension, horizontal press, upside down"),
    ("shoulder-ac", "acj_pages, golshani2018", "secondary",
     "horizontal press, end-range shoulder extension, loaded shoulder elevation, bar contact on the shoulder"),
    ("shoulder-stiff", "nhs_frozen", "primary",
     "loaded shoulder elevation, hang, ballistic hang, end-range shoulder extension, horizontal press"),
    ("biceps-strain", "golshani2018", "primary",
     "loaded elbow flexion, horizontal press, hang, ballistic hang, end-range shoulder extension"),
    ("pec-strain", "golshani2018", "primary",
     "loaded elbow flexion, horizontal press, hang, ballistic hang, end-range shoulder extension"),
    ("carpal-tunnel", "cts_cpg2019, cts_page", "secondary", "grip, loaded wrist extension, hang"),
    ("neck", "neck_cpg2017, ccgi_neck", "primary",
     "neck load, loaded shoulder elevation, upside down, repeated spine flexion"),
    ("neck-arm", "neck_cpg2017, ccgi_neck", "primary",
     "neck load, loaded shoulder elevation, axial spine load, upside down, grip"),
    ("rib", "rib_rowers2016", "primary",
     "repeated spine rotation, repeated spine flexion, horizontal press, hang, lying prone"),
    ("back-bending", "lbp_cpg2021", "secondary",
     "repeated spine flexion, hinge, deep hip flexion, repeated spine rotation, axial spine load"),
    ("back-leg", "lbp_cpg2021, nhs_cauda", "primary",
     "repeated spine flexion, hinge, axial spine load, straining, deep hip flexion, landings"),
    ("hip-front", "warwick2016, lamontagne2009, hip_cpg2023", "primary",
     "deep hip flexion, adductor stretch, high-speed hip"),
    ("hip-side", "gluteal_page, leap2018", "secondary", "single-leg load, landings, adductor stretch"),
    ("hip-arthritis", "nice_ng226", "secondary", "deep hip flexion, landings, single-leg load, adductor stretch"),
    ("adductor", "adductor_delphi, holmich1999", "primary",
     "adductor stretch, high-speed hip, deep hip flexion, landings"),
    ("hamstring-pulled", "hamstring_jat2022, hamstring_cpg2022, erickson2017", "primary",
     "hamstring lengthening, high-speed hip, hinge, deep hip flexion"),
    ("knee-kneecap", "pfp_cpg2019, thomee1997", "primary",
     "deep loaded knee flexion, landings, knee extension at speed, single-leg load"),
    ("knee-tendon", "malliaras2015", "primary",
     "landings, knee extension at speed, deep loaded knee flexion, single-leg load"),
    ("knee-ligament", "glos_knee", "primary",
     "landings, single-leg load, knee extension at speed, deep loaded knee flexion"),
    ("knee-catch", "glos_knee", "primary", "deep loaded knee flexion, landings, single-leg load"),
    ("knee-arthritis", "nice_ng226, roos_summary", "secondary",
     "landings, deep loaded knee flexion, getting down and up, single-leg load"),
    ("achilles-mid", "silbernagel2007, achilles_jat2020, achilles_cpg2018", "primary",
     "achilles elastic load, landings, high-speed hip"),
    ("ankle-sprain", "ankle_review2020, ankle_cpg2021, ottawa_umem", "primary",
     "ankle inversion, landings, balance, achilles elastic load"),
    ("heel-pain", "heel_bpg2021, heel_cpg2023", "primary", "landings, achilles elastic load"),
    ("shin-splints", "nhs_mtss, nhs_shin_copy, statpearls_stress", "primary", "landings, achilles elastic load"),
    ("concussion", "patricios2023, reap_rts, mccrory2017", "secondary",
     "landings, upside down, straining, balance, heart rate, neck load"),
    ("hernia", "nhs_hernia, hernia_recovery", "secondary", "straining, repeated spine flexion, axial spine load"),
    ("leaking", "nygaard2016, goom2019", "primary",
     "landings, straining, achilles elastic load, repeated spine flexion"),
    ("pregnancy-1", "acog804, csep2019, nhs_wales_pregnancy", "primary", "heart rate, straining"),
    ("pregnancy-2", "acog804, csep2019, nhs_pregnancy", "primary",
     "lying supine, lying prone, straining, landings, balance, heart rate, repeated spine flexion"),
    ("pregnancy-3", "acog804, nhs_norfolk_pregnancy, nhs_preeclampsia", "primary",
     "lying supine, lying prone, balance, landings, straining, axial spine load, deep hip flexion, getting down "
     "and up, heart rate"),
    ("postpartum-early", "goom2019, acog804", "primary",
     "landings, straining, repeated spine flexion, axial spine load, lying prone"),
    ("postpartum-late", "goom2019, nygaard2016", "primary",
     "landings, straining, achilles elastic load, repeated spine flexion"),
    ("hypertension", "aha_hypertensive_crisis, intraarterial_bp_rt, paluch2024, williams2007", "primary",
     "straining, heart rate, upside down, grip"),
    ("heart-disease", "acsm_getp10, paluch2024, bacpr_faq, riebe2015", "secondary",
     "heart rate, straining, grip, upside down"),
    ("asthma", "stickland2012, parsons2013, aggarwal2018, nhs_asthma", "primary", "heart rate"),
    ("diabetes-insulin", "turner2019, moser2020, hse_hypo, colberg2016", "primary", "heart rate, balance, landings"),
    ("diabetes-other", "colberg2017, colberg2016", "primary", "landings, heart rate"),
    ("epilepsy", "seizure_cdc", "secondary", "hang, balance, heart rate, upside down"),
    ("vertigo", "bppv_nhs, nhs_vertigo", "primary",
     "balance, getting down and up, upside down, lying supine, repeated spine flexion"),
    ("osteoporosis", "osteoporosis2022, physio_update_osteo", "primary",
     "repeated spine flexion, repeated spine rotation, landings, balance, axial spine load"),
    ("older-adult", "who2020, riebe2015", "secondary",
     "balance, getting down and up, landings, heart rate, loaded shoulder elevation"),
    ("post-viral", "nice_ng206, covid_rtp", "secondary", "heart rate"),
    ("mono", "becker2014", "primary", "straining, lying prone, landings, heart rate"),
    ("surgery", "hernia_recovery", "secondary",
     "straining, axial spine load, repeated spine flexion, lying prone, hang, landings"),
    ("blood-donated", "blood_uk, blood_fi", "primary", "heart rate, straining, hang, balance, grip"),
    ("heat-new", "acsm_heat2007, casa2015", "secondary", "heart rate"),
    ("sickle-trait", "ncaa_sct, nata_sct", "primary", "heart rate"),
    ("newcomer", "smoot2013, eichner2018, suzuki2017, springer2003", "primary",
     "hang, loaded elbow flexion, horizontal press, deep loaded knee flexion, landings, heart rate"),
    ("low-energy", "reds2023", "primary", "landings, heart rate"),
    ("eye-disease", "coo_retina", "primary", "straining, upside down, landings, repeated spine flexion"),
    ("med-beta", "mayo_beta", "primary", "heart rate"),
    ("med-anticoag", "npsa_headinjury, nice_ng232", "primary", "landings, hang, balance, upside down"),
]  # fmt: skip


@pytest.mark.parametrize(("profile", "sources", "seen", "tags"), TAGS, ids=[r[0] for r in TAGS])
def test_every_tag_of_the_evidence_is_limited(
    compiled: Compiled, profile: str, sources: str, seen: str, tags: str
) -> None:
    assert seen in {"primary", "secondary"}
    record = compiled.library.complaints[profile]
    if record.refer:
        return  # sent on: nothing is offered
    free = [tag for tag in tags.split(", ") if all(limit(record, demand) == FREE for demand in DEMANDS_OF_TAG[tag])]
    assert not free, sources
