/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What leaves the shared library, and which results must be looked at. */
#ifndef TIDEMARK_EXPORT_H
#define TIDEMARK_EXPORT_H

#if defined(__GNUC__)
#define TDM_API __attribute__((visibility("default")))
#define TDM_MUST_CHECK __attribute__((warn_unused_result))
#define TDM_PRINTF(string, first) __attribute__((format(printf, string, first)))
#else
#define TDM_API
#define TDM_MUST_CHECK
#define TDM_PRINTF(string, first)
#endif

#ifdef __cplusplus
#define TDM_BEGIN_DECLS extern "C" {
#define TDM_END_DECLS }
#else
#define TDM_BEGIN_DECLS
#define TDM_END_DECLS
#endif

#endif
