/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break if the fingerprint of a file weren't what every other tool gives. Values: the examples of NIST
 * for FIPS 180-4 (one block, two blocks, the empty message, a million letters). */
#include <string.h>

#include "base/sha256.h"
#include "suite.h"

static void check(const void *data, size_t size, const char *want)
{
    char hex[65];
    memset(hex, 'x', sizeof hex);
    tdm_sha256_hex(data, size, hex);
    ck_assert_str_eq(hex, want);
}

START_TEST(published_examples)
{
    const char *two = "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq";
    check("abc", 3, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    check(two, 56, "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
    check("", 0, "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
}
END_TEST

START_TEST(a_million_letters)
{
    char *letters = malloc(1000000);
    ck_assert_ptr_nonnull(letters);
    memset(letters, 'a', 1000000);
    check(letters, 1000000, "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
    free(letters);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {published_examples, a_million_letters, NULL};
    return run_suite("base SHA-256", tests);
}
