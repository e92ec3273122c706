// SPDX-License-Identifier: Apache-2.0
#include "papers/drawings.h"

#include <fmt/format.h>
#include <librsvg/rsvg.h>

#include <algorithm>
#include <cmath>

namespace footring::papers {

namespace {

constexpr double kDrawingDpi =
    240;  // finer than a printer shows on plain paper; the packing of pixels is a fifth of a paper
constexpr unsigned kMostWorkers = 4;

int dots(double points) { return std::max(1, static_cast<int>(std::lround(points * kDrawingDpi / 72))); }

std::shared_ptr<cairo_surface_t> surface(cairo_format_t format, int across, int down) {
    return {cairo_image_surface_create(format, across, down), cairo_surface_destroy};
}
std::unique_ptr<cairo_t, void (*)(cairo_t*)> drawn_on(cairo_surface_t* surface) {
    return {cairo_create(surface), cairo_destroy};
}

Drawings::Drawn pixels_of(const std::string& svg, int across, int down) {
    Drawings::Drawn out{surface(CAIRO_FORMAT_ARGB32, across, down), {}};
    out.trouble = draw_svg(svg, drawn_on(out.pixels.get()).get(), across, down);
    cairo_surface_flush(out.pixels.get());
    return out;
}

}  // namespace

std::string draw_svg(const std::string& svg, cairo_t* on, double width, double height) {
    GError* raised = nullptr;
    RsvgHandle* handle =
        rsvg_handle_new_from_data(reinterpret_cast<const guint8*>(svg.data()), svg.size(), &raised);
    if (handle != nullptr) {
        const RsvgRectangle whole{0, 0, width, height};
        rsvg_handle_render_document(handle, on, &whole, &raised);
        g_object_unref(handle);
    }
    std::string trouble = raised != nullptr ? raised->message : "";
    g_clear_error(&raised);
    return trouble;
}

Drawings::~Drawings() {
    {
        const std::lock_guard lock(guard_);
        ended_ = true;
        waiting_.clear();
    }
    more_.notify_all();
}

void Drawings::work() {
    for (;;) {
        std::packaged_task<Drawn()> next;
        {
            std::unique_lock lock(guard_);
            more_.wait(lock, [&] { return ended_ || !waiting_.empty(); });
            if (waiting_.empty()) return;
            next = std::move(waiting_.front());
            waiting_.pop_front();
        }
        next();
    }
}

std::shared_future<Drawings::Drawn> Drawings::layer(const std::string& svg, int across, int down) {
    const auto [at, fresh] = layers_.try_emplace(fmt::format("{} {} ", across, down) + svg);
    if (!fresh) return at->second;
    std::packaged_task<Drawn()> task([svg, across, down] { return pixels_of(svg, across, down); });
    at->second = task.get_future().share();
    {
        const std::lock_guard lock(guard_);
        waiting_.push_back(std::move(task));
    }
    more_.notify_one();
    if (workers_.size() < std::clamp(std::thread::hardware_concurrency(), 1u, kMostWorkers))
        workers_.emplace_back([this] { work(); });
    return at->second;
}

void Drawings::begin(const std::vector<std::string>& layers, double width, double height) {
    for (const std::string& svg : layers) layer(svg, dots(width), dots(height));
}

Drawings::Drawn Drawings::at(const std::vector<std::string>& layers, double width, double height) {
    const int across = dots(width), down = dots(height);
    const auto [at, fresh] = whole_.try_emplace(fmt::format("{} {} {}", across, down, fmt::join(layers, "\n")));
    Drawn& whole = at->second;
    if (!fresh) return whole;
    whole.pixels = surface(CAIRO_FORMAT_RGB24, across, down);
    const auto on = drawn_on(whole.pixels.get());
    cairo_set_source_rgb(on.get(), 1, 1, 1);
    cairo_paint(on.get());
    for (const std::string& svg : layers) {
        const Drawn drawn = layer(svg, across, down).get();
        if (whole.trouble.empty()) whole.trouble = drawn.trouble;
        cairo_set_source_surface(on.get(), drawn.pixels.get(), 0, 0);
        cairo_paint(on.get());
    }
    cairo_surface_flush(whole.pixels.get());
    return whole;
}

}  // namespace footring::papers
