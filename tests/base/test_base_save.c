/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break if a failed write spoilt the file that was there, or left scraps beside it. */
#include <dirent.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/file.h"
#include "suite.h"
#include "tidemark/report.h"

static void check_content(const char *path, const char *want)
{
    tdm_bytes bytes;
    tdm_error error;
    ck_assert_int_eq(tdm_file_read(path, 100, &bytes, &error), TDM_OK);
    ck_assert_str_eq((const char *)bytes.data, want);
    free(bytes.data);
}

static size_t files_in(const char *folder)
{
    size_t count = 0;
    DIR *open = opendir(folder);
    ck_assert_ptr_nonnull(open);
    for (const struct dirent *entry; (entry = readdir(open));)
        count += entry->d_name[0] != '.';
    (void)closedir(open);
    return count;
}

START_TEST(new_and_replaced)
{
    char folder[] = "save-XXXXXX", path[64];
    struct stat about;
    tdm_error error = {0};
    ck_assert_ptr_nonnull(mkdtemp(folder));
    (void)snprintf(path, sizeof path, "%s/out.json", folder);
    (void)umask(027);
    ck_assert_int_eq(tdm_save(path, "first, and longer\n", &error), TDM_OK);
    check_content(path, "first, and longer\n");
    ck_assert_int_eq(tdm_save(path, "second\n", &error), TDM_OK);
    check_content(path, "second\n");
    ck_assert_int_eq(stat(path, &about), 0);
    ck_assert_int_eq((int)(about.st_mode & 0777), 0640); /* what the umask leaves, not mkstemp's 0600 */
    ck_assert_uint_eq(files_in(folder), 1);
    (void)remove(path);
    (void)rmdir(folder);
}
END_TEST

/* A picture has zero bytes in it, which end a text. */
START_TEST(bytes_that_are_no_text)
{
    char folder[] = "save-XXXXXX", path[64];
    static const uint8_t picture[] = {0x89, 'P', 0, 0, 255, '\n', 0};
    tdm_bytes bytes;
    tdm_error error = {0};
    ck_assert_ptr_nonnull(mkdtemp(folder));
    (void)snprintf(path, sizeof path, "%s/out.png", folder);
    ck_assert_int_eq(tdm_save_bytes(path, picture, sizeof picture, &error), TDM_OK);
    ck_assert_int_eq(tdm_file_read(path, 100, &bytes, &error), TDM_OK);
    ck_assert_uint_eq(bytes.size, sizeof picture);
    ck_assert_mem_eq(bytes.data, picture, sizeof picture);
    free(bytes.data);
    ck_assert_int_eq(tdm_save_bytes(path, picture, 0, &error), TDM_OK);
    check_content(path, "");
    (void)remove(path);
    (void)rmdir(folder);
}
END_TEST

START_TEST(nowhere_to_go)
{
    char folder[] = "save-XXXXXX", path[64];
    tdm_error error = {0};
    ck_assert_ptr_nonnull(mkdtemp(folder));
    (void)snprintf(path, sizeof path, "%s/none/out.json", folder);
    ck_assert_int_eq(tdm_save(path, "x", &error), TDM_ERR_SYSTEM);
    ck_assert_str_eq(error.file, path);
    /* A folder can't be replaced by a file; the scrap goes. */
    (void)snprintf(path, sizeof path, "%s/sub", folder);
    ck_assert_int_eq(mkdir(path, 0700), 0);
    ck_assert_int_eq(tdm_save(path, "x", &error), TDM_ERR_SYSTEM);
    ck_assert_uint_eq(files_in(folder), 1);
    (void)rmdir(path);
    (void)rmdir(folder);
}
END_TEST

/* A limit on file size stands for a full disk: the write fails in the middle. */
START_TEST(full_disk)
{
    char folder[] = "save-XXXXXX", path[64];
    static char text[5000];
    tdm_error error = {0};
    ck_assert_ptr_nonnull(mkdtemp(folder));
    (void)snprintf(path, sizeof path, "%s/out.json", folder);
    ck_assert_int_eq(tdm_save(path, "old", &error), TDM_OK);
    memset(text, 'x', sizeof text - 1);
    struct rlimit before, small;
    ck_assert_int_eq(getrlimit(RLIMIT_FSIZE, &before), 0);
    small = before;
    small.rlim_cur = 1000;
    (void)signal(SIGXFSZ, SIG_IGN);
    ck_assert_int_eq(setrlimit(RLIMIT_FSIZE, &small), 0);
    const tdm_code code = tdm_save(path, text, &error);
    ck_assert_int_eq(setrlimit(RLIMIT_FSIZE, &before), 0);
    ck_assert_int_eq(code, TDM_ERR_SYSTEM);
    check_content(path, "old");
    ck_assert_uint_eq(files_in(folder), 1);
    (void)remove(path);
    (void)rmdir(folder);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {new_and_replaced, bytes_that_are_no_text, nowhere_to_go, full_disk, NULL};
    return run_suite("base save", tests);
}
