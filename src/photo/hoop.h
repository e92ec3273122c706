// photo/hoop.h - ellipses in the picture, as the search for the rim works with them, and their fit to points.
//   A Hoop is the image of the unit circle: point = centre + shape * (cos f, sin f). Mat pixels of the picture that
//   it was found in. An ellipse is the true image of a circle by a pinhole camera, so that nothing is lost by it.
//   source  direct fit: Halir and Flusser, "Numerically stable direct least squares fitting of ellipses", WSCG 1998
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <opencv2/core.hpp>
#include <optional>
#include <span>
#include <vector>

#include "photo/reading.h"

namespace footring::photo {

struct Hoop {
    cv::Point2d centre;
    cv::Matx22d shape;
    cv::Point2d at(double f) const;
    cv::Point2d outwards(double f) const;  // unit normal of the ellipse there
};
struct Axes {
    double a = 0, b = 0, turn = 0;  // semi-axes, a >= b; radians of the longer from +x towards +y, in [-pi/2, pi/2)
};
Axes axes_of(const Hoop&);
Hoop hoop_of(cv::Point2d centre, const Axes&);
Hoop hoop_of(const Ellipse&);     // from px of the photograph
Ellipse ellipse_of(const Hoop&);  // to px of the photograph
double perimeter(const Axes&);    // Ramanujan 1914
Hoop rescaled(const Hoop&,
              double scale);  // to a picture that is `scale` times as large; centres of pixels considered

// p^T C p = 0 on the ellipse, < 0 inside.
cv::Matx33d conic_of(const Hoop&);
std::optional<Hoop> hoop_of(const cv::Matx33d& conic);  // absent: no ellipse
cv::Matx33d unit_from_photo(const Hoop&);               // affine; the hoop becomes the unit circle

// Distance along the normal in px, > 0 outside; to first order, exact on the ellipse.
double distance_from(const Hoop&, cv::Point2d);
// Where a point lies round the hoop: f of at(f).
double round_of(const Hoop&, cv::Point2d);

// What the direct fit needs of points, so that sets of points can be joined at no cost.
class Scatter {
  public:
    // Points are taken relative to `origin` in units of `unit`; both must be alike for sets that are joined.
    Scatter(cv::Point2d origin, double unit) : origin_(origin), unit_(unit) {}
    void add(cv::Point2d, double weight = 1);
    void add(const Scatter&);
    double weight() const { return sums_(5, 5); }
    std::optional<Hoop> fit() const;

  private:
    cv::Point2d origin_;
    double unit_;
    cv::Matx<double, 6, 6> sums_ = cv::Matx<double, 6, 6>::zeros();
};
std::optional<Hoop> direct_fit(std::span<const cv::Point2d>);

// A change of a hoop that keeps it an ellipse moves its points outwards, in the frame where it is the unit circle,
// by c[0] + c[1] cos f + c[2] sin f + c[3] cos 2f + c[4] sin 2f, to first order.
using Change = std::array<double, 5>;
std::array<double, 5> change_basis(double f);
Hoop changed(const Hoop&, const Change&);

// The ellipse nearest to the points by geometric distance with Tukey's weights: what lies beyond `reach` px counts
// for nothing. `weights` empty: all one. `sigma`: of a point, px, robust. `covariance` is that of the Change.
struct RobustFit {
    Hoop hoop;
    double sigma = 0;
    std::vector<double> weights;  // 0..1, of each point at the end
    cv::Matx<double, 5, 5> covariance;
};
std::optional<RobustFit> robust_fit(const Hoop& start, std::span<const cv::Point2d>,
                                    std::span<const double> weights, double reach);

}  // namespace footring::photo
