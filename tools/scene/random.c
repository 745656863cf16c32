/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "scene.h"

uint32_t scn_random_bits(scn_random *random)
{
    const uint64_t old = random->state;
    random->state = old * 6364136223846793005ULL + random->increment;
    const uint32_t mixed = (uint32_t)(((old >> 18) ^ old) >> 27);
    const uint32_t turn = (uint32_t)(old >> 59);
    return (mixed >> turn) | (mixed << ((32 - turn) & 31));
}

scn_random scn_random_start(uint64_t seed, uint64_t stream)
{
    scn_random random = {0, (stream << 1) | 1};
    (void)scn_random_bits(&random);
    random.state += seed;
    (void)scn_random_bits(&random);
    return random;
}

double scn_uniform(scn_random *random, double low, double high)
{
    return low + (high - low) * ((double)scn_random_bits(random) + 0.5) / 4294967296.0;
}

double scn_normal(scn_random *random)
{
    const double radius = sqrt(-2.0 * log(scn_uniform(random, 0, 1)));
    return radius * cos(6.283185307179586 * scn_uniform(random, 0, 1));
}
