/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/file.h"

#include <errno.h>
#include <fcntl.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/fail.h"

static tdm_code check_open(int descriptor, const char *path, uint64_t limit, size_t *size, tdm_error *error)
{
    struct stat about;
    if (fstat(descriptor, &about) != 0)
        return tdm_fail(error, TDM_ERR_SYSTEM, path, NULL, "can't be examined: %s", strerror(errno));
    if (S_ISDIR(about.st_mode))
        return tdm_fail(error, TDM_ERR_UNREADABLE, path, NULL, "is a folder; name a file in it");
    if (!S_ISREG(about.st_mode))
        return tdm_fail(error, TDM_ERR_UNREADABLE, path, NULL, "isn't a regular file; save it to one first");
    if ((uint64_t)about.st_size > limit)
        return tdm_fail(error, TDM_ERR_LIMIT, path, NULL,
                        "has %" PRIu64 " bytes and the limit is %" PRIu64 "; raise it if you trust the file",
                        (uint64_t)about.st_size, limit);
    *size = (size_t)about.st_size;
    return TDM_OK;
}

static tdm_code read_all(int descriptor, const char *path, size_t size, tdm_bytes *out, tdm_error *error)
{
    uint8_t *data = malloc(size + 1);
    if (!data)
        return tdm_fail_memory(error, path);
    size_t have = 0;
    while (have < size) {
        const ssize_t got = read(descriptor, data + have, size - have);
        if (got < 0 && errno == EINTR)
            continue;
        if (got < 0) {
            const int cause = errno;
            free(data);
            return tdm_fail(error, TDM_ERR_SYSTEM, path, NULL, "reading failed: %s", strerror(cause));
        }
        if (got == 0)
            break; /* shrank while being read: the parser will see what is missing */
        have += (size_t)got;
    }
    data[have] = 0;
    out->data = data;
    out->size = have;
    return TDM_OK;
}

tdm_code tdm_file_read(const char *path, uint64_t limit, tdm_bytes *out, tdm_error *error)
{
    if (path[0] == '\0')
        return tdm_fail(error, TDM_ERR_UNREADABLE, path, NULL, "a file's name is empty; name a file");
    /* Non-blocking, so that a pipe without a writer can't hang the open. */
    const int descriptor = open(path, O_RDONLY | O_CLOEXEC | O_NOCTTY | O_NONBLOCK);
    if (descriptor < 0) {
        const tdm_code code = errno == EMFILE || errno == ENFILE || errno == EIO || errno == ENOMEM
                                  ? TDM_ERR_SYSTEM
                                  : TDM_ERR_UNREADABLE;
        return tdm_fail(error, code, path, NULL, "can't be opened: %s", strerror(errno));
    }
    size_t size = 0;
    tdm_code code = check_open(descriptor, path, limit, &size, error);
    if (code == TDM_OK)
        code = read_all(descriptor, path, size, out, error);
    (void)close(descriptor); /* read only: nothing can be lost here */
    return code;
}

const char *tdm_file_name(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}
