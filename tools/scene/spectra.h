/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SPECTRA_H
#define SPECTRA_H

enum { SCN_WAVES = 36, SCN_FIRST_NM = 380, SCN_STEP_NM = 10 };

extern const double scn_observer[3][SCN_WAVES];
extern const double scn_daylight[3][SCN_WAVES];
/* [camera][red, green, blue] */
extern const double scn_sensitivity[2][3][SCN_WAVES];
extern const double scn_patch_spectra[24][SCN_WAVES];

#endif
