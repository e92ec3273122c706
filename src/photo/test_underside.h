// photo/test_underside.h - undersides with wording, drawn in the test itself. Tests only.
//   A plate turned over, from straight above: glaze with slow shades of light, the foot ring, a lamp's image; on it
//   what the test prints, stamps or presses. Fonts are those that cairo finds as "sans" and "serif".
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cairo.h>

#include <cmath>
#include <functional>
#include <opencv2/core.hpp>
#include <opencv2/imgproc.hpp>
#include <optional>
#include <string>

#include "photo/outline.h"
#include "photo/picture.h"

namespace footring::photo::testing {

struct PrintSpec {
    cv::Scalar ink{60, 60, 60};  // B, G, R
    double strength = 0.9;       // 0: nothing, 1: all ink
    bool pressed = false;        // into the clay, no ink
    bool serif = false, bold = true;
};

class Underside {
  public:
    explicit Underside(cv::Scalar glaze = {205, 222, 230}, cv::Size size = {1200, 900}, double noise = 2.5)
        : size_(size), noise_(noise), radius_(0.46 * size.height), picture_(size, CV_32FC3) {
        const cv::Point2d c = middle();
        for (int y = 0; y < size.height; ++y)
            for (int x = 0; x < size.width; ++x) {
                const double dx = (x - c.x) / radius_, dy = (y - c.y) / radius_, d = std::hypot(dx, dy);
                double light = 1 + 0.06 * dx + 0.04 * dy + 0.02 * std::sin(5 * dx) * std::cos(4 * dy);
                for (const auto& [at, deep] : {std::pair{0.62, -0.14}, {0.645, 0.07}, {0.985, -0.12}})
                    light += deep * std::exp(-std::pow((d - at) / 0.012, 2));
                const double lamp = 45 * std::exp(-std::pow((dx - 0.3) / 0.1, 2) - std::pow((dy + 0.28) / 0.05, 2));
                auto& p = picture_.at<cv::Vec3f>(y, x);
                for (int i = 0; i < 3; ++i)
                    p[i] = d < 1 ? static_cast<float>(glaze[i] * light + lamp)
                                 : static_cast<float>(70 + 20 * i + 8 * std::sin(x * 0.21));
            }
    }
    cv::Point2d middle() const { return {(size_.width - 1) / 2.0, (size_.height - 1) / 2.0}; }
    double radius() const { return radius_; }

    // A line with the middle of its capitals at `at`, turned clockwise.
    void print(const std::string& text, cv::Point2d at, double capital_px, double turned_deg,
               const PrintSpec& how = {}) {
        lay(how, [&](cairo_t* cr) {
            font(cr, capital_px, how);
            cairo_text_extents_t extents;
            cairo_text_extents(cr, text.c_str(), &extents);
            cairo_translate(cr, at.x, at.y);
            cairo_rotate(cr, turned_deg * CV_PI / 180);
            cairo_move_to(cr, -extents.width / 2 - extents.x_bearing, capital_px / 2);
            cairo_show_text(cr, text.c_str());
        });
    }
    // Round a circle, the middle of the wording `turned_deg` clockwise from the top; `inwards`: the letters' heads
    // point to the middle of the circle.
    void print_round(const std::string& text, cv::Point2d at, double radius, double capital_px, double turned_deg,
                     bool inwards, const PrintSpec& how = {}) {
        lay(how, [&](cairo_t* cr) {
            font(cr, capital_px, how);
            const double space = 0.12 * capital_px;
            const auto width_of = [&](char c) {
                cairo_text_extents_t extents;
                const char one[] = {c, '\0'};
                cairo_text_extents(cr, one, &extents);
                return extents.x_advance + space;
            };
            double all = 0;
            for (const char c : text) all += width_of(c);
            double along = -all / 2;
            for (const char c : text) {
                const double width = width_of(c), a = (along + width / 2) / radius;
                along += width;
                const char one[] = {c, '\0'};
                cairo_save(cr);
                cairo_translate(cr, at.x, at.y);
                cairo_rotate(cr, turned_deg * CV_PI / 180 + (inwards ? -a : a));
                cairo_translate(cr, 0, inwards ? radius : -radius);
                cairo_move_to(cr, -(width - space) / 2, capital_px / 2);
                cairo_show_text(cr, one);
                cairo_restore(cr);
            }
        });
    }
    void speck(cv::Point2d at, double r) {
        cv::circle(picture_, at, static_cast<int>(r), {90, 110, 120}, -1, cv::LINE_AA);
    }
    void scratch(cv::Point2d a, cv::Point2d b) { cv::line(picture_, a, b, {170, 185, 195}, 1, cv::LINE_AA); }

    Picture picture() const {
        cv::Mat soft, grain(picture_.size(), CV_32FC3);
        cv::GaussianBlur(picture_, soft, {0, 0}, 0.8);
        cv::RNG(7).fill(grain, cv::RNG::NORMAL, 0, noise_);
        Picture out;
        cv::Mat(soft + grain).convertTo(out.bgr, CV_8UC3);
        out.type = "image/png";
        return out;
    }
    Plate plate() const {
        Plate out;
        out.outline.kind = OutlineKind::kRound;
        out.outline.seen = 1;
        out.outline.rim = {px_from_mat(middle()), radius_, radius_, 0};
        const cv::Point2d c = middle();
        out.photo_from_plate = cv::Matx34d(radius_, 0, 0, c.x, 0, radius_, 0, c.y, 0, 0, 0, 1);
        return out;
    }

  private:
    static void font(cairo_t* cr, double capital_px, const PrintSpec& how) {
        cairo_select_font_face(cr, how.serif ? "serif" : "sans", CAIRO_FONT_SLANT_NORMAL,
                               how.bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
        cairo_set_font_size(cr, 100);
        cairo_text_extents_t extents;
        cairo_text_extents(cr, "H", &extents);
        cairo_set_font_size(cr, 100 * capital_px / std::max(1.0, extents.height));
    }
    void lay(const PrintSpec& how, const std::function<void(cairo_t*)>& draw) {
        cv::Mat cover(size_, CV_8UC1, cv::Scalar(0));
        cv::Mat rows(size_.height, cairo_format_stride_for_width(CAIRO_FORMAT_A8, size_.width), CV_8UC1,
                     cv::Scalar(0));
        cairo_surface_t* surface = cairo_image_surface_create_for_data(rows.data, CAIRO_FORMAT_A8, size_.width,
                                                                       size_.height, static_cast<int>(rows.step));
        cairo_t* cr = cairo_create(surface);
        draw(cr);
        cairo_destroy(cr);
        cairo_surface_flush(surface);
        cairo_surface_destroy(surface);
        rows.colRange(0, size_.width).copyTo(cover);
        cv::Mat relief, gx, gy;
        cover.convertTo(relief, CV_32F, 1 / 255.0);
        if (how.pressed) {
            cv::GaussianBlur(relief, relief, {0, 0}, 1.2);
            cv::Sobel(relief, gx, CV_32F, 1, 0, 3, 0.125);
            cv::Sobel(relief, gy, CV_32F, 0, 1, 3, 0.125);
        }
        for (int y = 0; y < size_.height; ++y)
            for (int x = 0; x < size_.width; ++x) {
                const float a = relief.at<float>(y, x);
                auto& p = picture_.at<cv::Vec3f>(y, x);
                for (int i = 0; i < 3; ++i)
                    if (how.pressed)
                        p[i] *= static_cast<float>(
                            1 + how.strength * (1.6 * gx.at<float>(y, x) + 2 * gy.at<float>(y, x)) - 0.08 * a);
                    else p[i] += static_cast<float>(a * how.strength * (how.ink[i] - p[i]));
            }
    }

    cv::Size size_;
    double noise_, radius_;
    cv::Mat picture_;
};

}  // namespace footring::photo::testing
