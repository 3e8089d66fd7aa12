"""Where the engine's numbers come from. Docstrings and reasons refer to these by key."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

Verified = Literal["document", "secondary", "code", "memory"]
"""How the cited content was seen.

In the paper, its abstract or the standard; on a page that quotes it; in public code that
cites it; or recalled and not seen.
"""


@dataclass(frozen=True, slots=True)
class Source:
    """A published source.

    Attributes:
        cite: The citation.
        says: What the engine takes from it.
        verified: How that was seen.
    """

    cite: str
    says: str
    verified: Verified


SOURCES: Mapping[str, Source] = MappingProxyType(
    {
        "rohmert_1960": Source(
            "Rohmert W. Ermittlung von Erholungspausen fuer statische Arbeit des Menschen. "
            "Int Z angew Physiol 1960;18:123-164",
            "T = -1.5 + 2.1/f - 0.6/f^2 + 0.1/f^3 minutes at a share f of the maximum.",
            "memory",
        ),
        "hincapie_ramos_2014": Source(
            "Hincapie-Ramos JD, Guo X, Moghadasian P, Irani P. Consumed endurance. CHI 2014, "
            "doi 10.1145/2556288.2557130",
            "E = 1236.5/(S - 15)^0.618 - 72.5 seconds at S percent of the maximum; it agrees "
            "with the polynomial of 1960 within 10 % from 20 to 90 %.",
            "code",
        ),
        "epley_1985": Source(
            "Epley B. Poundage chart. Boyd Epley Workout. Lincoln NE: Body Enterprises; 1985",
            "One repetition: w (1 + r/30).",
            "secondary",
        ),
        "brzycki_1993": Source(
            "Brzycki M. Strength testing: predicting a one-rep max from reps-to-fatigue. "
            "JOPERD 1993;64(1):88-90",
            "One repetition: w 36/(37 - r); equal to Epley at 10 repetitions.",
            "secondary",
        ),
        "nsca_2016": Source(
            "Haff GG, Triplett NT (eds). Essentials of Strength Training and Conditioning. "
            "4th ed. Human Kinetics; 2016, chapter 17",
            "Percent of one repetition allowed by repetitions: 100, 95, 93, 90, 87, 85, 83, 80, "
            "77, 75 for 1 to 10.",
            "secondary",
        ),
        "reynolds_2006": Source(
            "Reynolds JM, Gordon TJ, Robergs RA. J Strength Cond Res 2006;20(3):584-592",
            "Linear equations hold to no more than 10 repetitions.",
            "document",
        ),
        "zourdos_2016": Source(
            "Zourdos MC, et al. J Strength Cond Res 2016;30(1):267-275",
            "RPE 10 leaves 0 repetitions in reserve, 9 leaves 1, and so forth.",
            "document",
        ),
        "hackett_2017": Source(
            "Hackett DA, et al. J Strength Cond Res 2017;31(8):2162-2168",
            "Reported reserve is off by about 1 repetition when 0 to 5 remain, by more than 2 "
            "when 7 to 10 remain.",
            "document",
        ),
        "acsm_2009": Source(
            "American College of Sports Medicine. Progression models in resistance training for "
            "healthy adults. Med Sci Sports Exerc 2009;41(3):687-708",
            "Load goes up by 2 to 10 % when 1 to 2 repetitions over the wanted number are done.",
            "document",
        ),
        "rogerson_2024": Source(
            "Rogerson D, et al. Sports Med Open 2024;10:26",
            "A lighter week comes every 5.6 weeks on average: fewer sets and repetitions, less "
            "load and effort, the same exercises.",
            "document",
        ),
        "bosquet_2013": Source(
            "Bosquet L, et al. Scand J Med Sci Sports 2013;23(3):e140-e149",
            "Strength falls with time off, more the longer it is.",
            "document",
        ),
        "mcmaster_2013": Source(
            "McMaster DT, Gill N, Cronin J, McGuigan M. Sports Med 2013;43(5):367-384",
            "Strength is kept for about 3 weeks off and falls faster over 5 to 16 weeks.",
            "memory",
        ),
        "ogasawara_2011": Source(
            "Ogasawara R, et al. Clin Physiol Funct Imaging 2011",
            "Three weeks off after six weeks of training: strength -2 to +1 %, then regained.",
            "document",
        ),
        "frey_law_2012": Source(
            "Frey-Law LA, Looft JM, Heitsman J. J Biomech 2012;45(10):1803-1808, PMC3397684",
            "95 % of people lie within 29 to 47 % of the mean time to failure.",
            "code",
        ),
        "finger_reliability_2025": Source(
            "Study of body position in tests of finger strength (n = 26). J Sports Sci 2025",
            "Finger strength on an edge varies by 2.0 to 3.4 % between sessions (CV).",
            "document",
        ),
        "finger_extensors_2023": Source(
            "Study of finger flexors and extensors of climbers. Front Sports Act Living 2023, "
            "doi 10.3389/fspor.2023.1243354",
            "Training at 80 % twice a week for four weeks: 8.4 % stronger.",
            "document",
        ),
        "sen_1968": Source(
            "Sen PK. Estimates of the regression coefficient based on Kendall's tau. "
            "J Am Stat Assoc 1968;63(324):1379-1389",
            "The median of the slopes between all pairs of points, and its interval.",
            "memory",
        ),
        "bourne_2011": Source(
            "Bourne R, Halaki M, Vanwanseele B, Clarke J. J Appl Biomech 2011;27(1):40-46",
            "Force on very small edges tells nothing of force on deeper ones (r < 0.1).",
            "document",
        ),
        "foster_1998": Source(
            "Foster C. Monitoring training in athletes with reference to overtraining syndrome. "
            "Med Sci Sports Exerc 1998;30(7):1164-1168",
            "Monotony is daily mean by standard deviation; strain is load times monotony.",
            "document",
        ),
        "foster_2001": Source(
            "Foster C, Florhaug JA, Franklin J, et al. A new approach to monitoring exercise "
            "training. J Strength Cond Res 2001;15(1):109-115",
            "The load of a session is its rating of exertion times its minutes: 7 x 60 = 420.",
            "secondary",
        ),
        "williams_2017": Source(
            "Williams S, West S, Cross MJ, Stokes KA. Br J Sports Med 2017;51(3):209-210",
            "Weighted mean of daily loads, each day weighing 2/(N+1): ratios 1.25 and 1.43.",
            "document",
        ),
        "impellizzeri_2020": Source(
            "Impellizzeri FM, Woodcock S, Coutts AJ, Fanchini M, McCall A, Vigotsky AD. Sports "
            "Med 2020, doi 10.1007/s40279-020-01378-6",
            "The ratio of short to long loads is a rescaled short load: contrived long loads do "
            "nearly as well, and neither predicts injury usably (c-statistic 0.574).",
            "document",
        ),
        "morrison_schoffl_2007": Source(
            "Morrison AB, Schoffl VR. Physiological responses to rock climbing in young "
            "climbers. Br J Sports Med 2007;41(12):852-861",
            "Under 16: no intensive finger strength training.",
            "document",
        ),
        "pound_1959": Source(
            "International yard and pound agreement, 1959; UK Weights and Measures Act 1963, s.1",
            "1 lb = 0.45359237 kg exactly.",
            "document",
        ),
    }
)
