// papers/pdf_faces.h - how each kind of text looks on paper: one place for the whole hand. Private to this room.
//   EB Garamond for what is read, Lato for what is looked up. Figures in running text are old-style, in tables and
//   contents they are lining and all of one width.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "papers/pdf_canvas.h"

namespace footring::papers {

inline constexpr const char* kSerif = "EB Garamond 12";
inline constexpr const char* kSerifSmall = "EB Garamond 08";
inline constexpr const char* kSansFamily = "Lato";
inline constexpr const char* kOldFigures = "onum=1,pnum=1,liga=1";
inline constexpr const char* kTableFigures = "lnum=1,tnum=1";

inline const Face kBodyFace{.size = 10.8, .leading = 14, .features = kOldFigures, .justified = true};
inline const Face kLeadFace{
    .size = 12.4, .leading = 16.5, .features = kOldFigures, .justified = false, .divided = false};
inline const Face kNoteFace{
    .family = kSerifSmall, .size = 9, .leading = 11.6, .ink = kFaint, .features = kOldFigures};
inline const Face kCautionFace{.size = 10.2, .leading = 13.2, .features = kOldFigures};
inline const Face kMarkFace{.size = 10.8, .leading = 14, .ink = kFaint, .features = kOldFigures};
inline const Face kAside{
    .family = kSansFamily, .size = 7.6, .leading = 10, .ink = kFaint, .features = kTableFigures, .divided = false};
inline const Face kCaption{.family = kSansFamily, .size = 7.5, .leading = 9.8, .features = kTableFigures};
inline const Face kHead1{.size = 19, .leading = 23, .features = kOldFigures, .divided = false};
inline const Face kHead2{.size = 14, .leading = 17.5, .italic = true, .features = kOldFigures, .divided = false};
inline const Face kHead3{.size = 11.4, .leading = 14.5, .bold = true, .features = "lnum=1", .divided = false};
inline const Face kKind{.family = kSansFamily,
                        .size = 8,
                        .leading = 11,
                        .bold = true,
                        .ink = kAccent,
                        .tracking = 1.1,
                        .divided = false};
inline const Face kTitle{.size = 28, .leading = 32, .features = kOldFigures, .divided = false};
inline const Face kSubtitle{
    .size = 12.6, .leading = 16.5, .italic = true, .ink = kFaint, .features = kOldFigures, .divided = false};
inline const Face kContents1{.size = 11, .leading = 15, .features = kOldFigures, .divided = false};
inline const Face kContents2{
    .size = 10.4, .leading = 13.4, .ink = kFaint, .features = kOldFigures, .divided = false};
inline const Face kTableCaption{
    .size = 11, .leading = 15, .italic = true, .features = kOldFigures, .divided = false};
inline const Face kTableHead{
    .family = kSansFamily, .size = 7.2, .leading = 9.4, .bold = true, .ink = kFaint, .divided = false};
inline const Face kTableFace{.family = kSansFamily, .size = 8.2, .leading = 11, .features = kTableFigures};
inline const Face kTableCompact{.family = kSansFamily, .size = 7.7, .leading = 9.7, .features = kTableFigures};
inline const Face kListedFace{.size = 10, .leading = 12.6, .features = kOldFigures};
inline const Face kCorner{
    .family = kSansFamily, .size = 7.6, .leading = 10, .ink = kFaint, .features = kTableFigures, .divided = false};
inline const Face kFoot{
    .family = kSansFamily, .size = 7.2, .leading = 9, .ink = kFaint, .features = kTableFigures, .divided = false};

}  // namespace footring::papers
