/* A breach on purpose: photo stands to the left of colour. */
#include "colour/lab.h"
