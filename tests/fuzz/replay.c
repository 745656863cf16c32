/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Feeds every file of a folder to a fuzz target once: what the fuzzer found stays found without a fuzzer. */
#include <dirent.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/stat.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* Exactly as large as the file, so that reading past the end is seen. */
static int feed(const char *path)
{
    struct stat about;
    FILE *file = fopen(path, "rb");
    if (!file || fstat(fileno(file), &about) != 0 || !S_ISREG(about.st_mode)) {
        fprintf(stderr, "%s: can't be read\n", path);
        if (file)
            (void)fclose(file);
        return EXIT_FAILURE;
    }
    const size_t size = (size_t)about.st_size;
    uint8_t *data = malloc(size ? size : 1);
    const int status = data && fread(data, 1, size, file) == size ? EXIT_SUCCESS : EXIT_FAILURE;
    (void)fclose(file);
    if (status == EXIT_SUCCESS)
        (void)LLVMFuzzerTestOneInput(data, size);
    free(data);
    return status;
}

int main(int argc, char **argv)
{
    DIR *folder = argc == 2 ? opendir(argv[1]) : NULL;
    if (!folder) {
        fprintf(stderr, "usage: %s FOLDER\n", argv[0]);
        return EXIT_FAILURE;
    }
    size_t count = 0;
    int status = EXIT_SUCCESS;
    for (const struct dirent *entry; status == EXIT_SUCCESS && (entry = readdir(folder));) {
        char path[4096];
        if (entry->d_name[0] == '.')
            continue;
        const int length = snprintf(path, sizeof path, "%s/%s", argv[1], entry->d_name);
        status = length > 0 && (size_t)length < sizeof path ? feed(path) : EXIT_FAILURE;
        count++;
    }
    (void)closedir(folder);
    printf("%zu files\n", count);
    return count == 0 ? EXIT_FAILURE : status;
}
