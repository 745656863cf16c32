/* A breach on purpose: lcms2 belongs to colour alone. */
#include <lcms2.h>
