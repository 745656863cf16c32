/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/fail.h"
#include "tidemark/report.h"

static tdm_code write_all(int descriptor, const char *path, const unsigned char *bytes, size_t left,
                          tdm_error *error)
{
    while (left > 0) {
        const ssize_t put = write(descriptor, bytes, left);
        if (put < 0 && errno == EINTR)
            continue;
        if (put < 0)
            return tdm_fail(error, TDM_ERR_SYSTEM, path, NULL, "can't be written: %s", strerror(errno));
        bytes += put;
        left -= (size_t)put;
    }
    if (fsync(descriptor) != 0)
        return tdm_fail(error, TDM_ERR_SYSTEM, path, NULL, "can't be written: %s", strerror(errno));
    return TDM_OK;
}

/* The rename itself must reach the disk too. A file system that can't sync a folder is no reason to fail. */
static void sync_folder(const char *temporary)
{
    char *folder = strdup(temporary);
    if (!folder)
        return;
    char *slash = strrchr(folder, '/');
    if (slash)
        slash[slash == folder ? 1 : 0] = '\0';
    const int descriptor = open(slash ? folder : ".", O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (descriptor >= 0) {
        (void)fsync(descriptor);
        (void)close(descriptor);
    }
    free(folder);
}

/* mkstemp makes 0600; a result file gets what a plain creation would give. */
static mode_t usual_mode(void)
{
    const mode_t mask = umask(022);
    (void)umask(mask);
    return (mode_t)(0666 & ~mask);
}

tdm_code tdm_save_bytes(const char *path, const void *bytes, size_t size, tdm_error *error)
{
    const size_t room = strlen(path) + sizeof ".XXXXXX";
    char *temporary = malloc(room);
    if (!temporary)
        return tdm_fail_memory(error, path);
    (void)snprintf(temporary, room, "%s.XXXXXX", path);
    const int descriptor = mkstemp(temporary);
    if (descriptor < 0) {
        const int cause = errno;
        free(temporary);
        return tdm_fail(error, TDM_ERR_SYSTEM, path, NULL, "can't be written: %s", strerror(cause));
    }
    tdm_code code = write_all(descriptor, path, bytes, size, error);
    if (code == TDM_OK && fchmod(descriptor, usual_mode()) != 0)
        code = tdm_fail(error, TDM_ERR_SYSTEM, path, NULL, "can't be written: %s", strerror(errno));
    if (close(descriptor) != 0 && code == TDM_OK)
        code = tdm_fail(error, TDM_ERR_SYSTEM, path, NULL, "can't be written: %s", strerror(errno));
    if (code == TDM_OK && rename(temporary, path) != 0)
        code = tdm_fail(error, TDM_ERR_SYSTEM, path, NULL, "can't be put in place: %s", strerror(errno));
    if (code == TDM_OK)
        sync_folder(temporary);
    else
        (void)unlink(temporary);
    free(temporary);
    return code;
}

tdm_code tdm_save(const char *path, const char *text, tdm_error *error)
{
    return tdm_save_bytes(path, text, strlen(text), error);
}
