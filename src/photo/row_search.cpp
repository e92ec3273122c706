// SPDX-License-Identifier: Apache-2.0
#include "photo/row_search.h"

#include <cmath>

namespace footring::photo {

namespace {
RowMap disc_map(float scale) { return {scale, 0.5f * (scale - 1)}; }
}  // namespace

const std::vector<RowMap>& wide_maps() {
    static const std::vector<RowMap> maps = [] {
        std::vector<RowMap> out;
        for (const float scale : {1.0f, 0.75f, 0.86f, 1.15f, 1.33f})
            for (const float shift : {0.0f, -0.07f, 0.07f, -0.15f, 0.15f}) out.push_back({scale, shift});
        return out;
    }();
    return maps;
}
const std::vector<RowMap>& disc_maps() {
    static const std::vector<RowMap> maps = [] {
        std::vector<RowMap> out;
        for (const float scale : {1.0f, 0.75f, 0.87f, 1.15f, 1.33f}) out.push_back(disc_map(scale));
        return out;
    }();
    return maps;
}

RowFit best_rows(const Waves& drawing, const Waves& seen, const std::vector<RowMap>& maps, int rounds, bool disc) {
    RowFit best;
    const auto attempt = [&](RowMap map) {
        const Waves laid = mapped(seen, map);
        const Fit found = fit(drawing, laid);
        const float value = worth(drawing, laid, found);
        if (value > best.worth) best = {map, found, value};
    };
    for (const RowMap map : maps) attempt(map);
    float scale = 1.07f, shift = 0.035f;
    for (int round = 0; round < rounds; ++round, scale = std::sqrt(scale), shift /= 2) {
        const RowMap from = best.map;
        for (const float by : {1 / scale, 1.0f, scale}) {
            if (disc) {
                attempt(disc_map(from.scale * by));
                continue;
            }
            for (const float move : {-shift, 0.0f, shift}) attempt({from.scale * by, from.shift + move});
        }
    }
    return best;
}

}  // namespace footring::photo
