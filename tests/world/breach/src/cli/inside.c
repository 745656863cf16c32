/* A breach on purpose: the command sees public headers only. */
#include "measure/measure.h"
