// papers/drawings.h - drawings as pixels, made on other processors while the page is being set. Private to this
// room.
//   A glyph, which holds other drawings as images, would be cut into hundreds of small images and masks in a PDF:
//   as one image it is smaller and sharper. Turning glyphs into pixels is nine tenths of the work of a dossier, so
//   each layer that several share is drawn once.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cairo.h>

#include <condition_variable>
#include <deque>
#include <future>
#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <thread>
#include <vector>

namespace footring::papers {

// Draws an SVG document to fill `width` x `height`; what went wrong, or nothing.
std::string draw_svg(const std::string& svg, cairo_t* on, double width, double height);

class Drawings {
  public:
    struct Drawn {
        std::shared_ptr<cairo_surface_t> pixels;
        std::string trouble;
    };

    // Asks for the layers (SVG) of a drawing of `width` x `height` points.
    void begin(const std::vector<std::string>& layers, double width, double height);
    // Waits for them, and lays them on white.
    Drawn at(const std::vector<std::string>& layers, double width, double height);

    Drawings() = default;
    ~Drawings();  // what nobody waited for is left undrawn

  private:
    std::shared_future<Drawn> layer(const std::string& svg, int across, int down);
    void work();

    std::map<std::string, std::shared_future<Drawn>> layers_;
    std::map<std::string, Drawn> whole_;
    std::mutex guard_;  // of what follows
    std::condition_variable more_;
    std::deque<std::packaged_task<Drawn()>> waiting_;
    bool ended_ = false;
    std::vector<std::jthread> workers_;  // last: they end before what they use
};

}  // namespace footring::papers
