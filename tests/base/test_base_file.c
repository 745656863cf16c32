/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Would break if a file were read short, past its limit, or something that isn't a file hung the program. */
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/file.h"
#include "suite.h"

static void make_folder(char folder[32])
{
    strcpy(folder, "file-XXXXXX");
    ck_assert_ptr_nonnull(mkdtemp(folder));
}

static void write_file(const char *path, const void *data, size_t size)
{
    FILE *file = fopen(path, "wb");
    ck_assert_ptr_nonnull(file);
    ck_assert_uint_eq(fwrite(data, 1, size, file), size);
    ck_assert_int_eq(fclose(file), 0);
}

START_TEST(whole_and_limits)
{
    char folder[32], path[64];
    tdm_bytes bytes;
    tdm_error error;
    make_folder(folder);
    (void)snprintf(path, sizeof path, "%s/five", folder);
    write_file(path, "a\0b\nc", 5);
    ck_assert_int_eq(tdm_file_read(path, 5, &bytes, &error), TDM_OK);
    ck_assert_uint_eq(bytes.size, 5);
    ck_assert_mem_eq(bytes.data, "a\0b\nc", 6); /* and the zero byte after it */
    free(bytes.data);
    ck_assert_int_eq(tdm_file_read(path, 4, &bytes, &error), TDM_ERR_LIMIT);
    ck_assert_str_eq(error.file, path);
    (void)remove(path);
    (void)rmdir(folder);
}
END_TEST

START_TEST(empty)
{
    char folder[32], path[64];
    tdm_bytes bytes;
    tdm_error error;
    make_folder(folder);
    (void)snprintf(path, sizeof path, "%s/empty", folder);
    write_file(path, "", 0);
    ck_assert_int_eq(tdm_file_read(path, 0, &bytes, &error), TDM_OK);
    ck_assert_uint_eq(bytes.size, 0);
    ck_assert_ptr_nonnull(bytes.data);
    ck_assert_int_eq(bytes.data[0], 0);
    free(bytes.data);
    (void)remove(path);
    (void)rmdir(folder);
}
END_TEST

/* A pipe that nobody writes to must not hang the open. */
START_TEST(not_a_file)
{
    char folder[32], path[64];
    tdm_bytes bytes;
    tdm_error error;
    make_folder(folder);
    (void)snprintf(path, sizeof path, "%s/pipe", folder);
    ck_assert_int_eq(tdm_file_read(path, 100, &bytes, &error), TDM_ERR_UNREADABLE);
    ck_assert_int_eq(mkfifo(path, 0600), 0);
    ck_assert_int_eq(tdm_file_read(path, 100, &bytes, &error), TDM_ERR_UNREADABLE);
    ck_assert_int_eq(tdm_file_read(folder, 100, &bytes, &error), TDM_ERR_UNREADABLE);
    ck_assert_ptr_nonnull(strstr(error.text, "folder"));
    ck_assert_int_eq(tdm_file_read("/dev/zero", 100, &bytes, &error), TDM_ERR_UNREADABLE);
    (void)remove(path);
    (void)rmdir(folder);
}
END_TEST

/* The superuser reads everything, so this says nothing there. */
START_TEST(no_permission)
{
    char folder[32], path[64];
    tdm_bytes bytes;
    tdm_error error;
    if (geteuid() == 0) {
        printf("run as the superuser: reading without permission isn't tested\n");
        return;
    }
    make_folder(folder);
    (void)snprintf(path, sizeof path, "%s/closed", folder);
    write_file(path, "x", 1);
    ck_assert_int_eq(chmod(path, 0), 0);
    ck_assert_int_eq(tdm_file_read(path, 100, &bytes, &error), TDM_ERR_UNREADABLE);
    (void)remove(path);
    (void)rmdir(folder);
}
END_TEST

START_TEST(names)
{
    ck_assert_str_eq(tdm_file_name("a/b/c.jpg"), "c.jpg");
    ck_assert_str_eq(tdm_file_name("c.jpg"), "c.jpg");
    ck_assert_str_eq(tdm_file_name("/c.jpg"), "c.jpg");
    ck_assert_str_eq(tdm_file_name("a/"), "");
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {whole_and_limits, empty, not_a_file, no_permission, names, NULL};
    return run_suite("base file", tests);
}
