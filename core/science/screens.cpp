#include "science/screens.h"

namespace tawny {
namespace {

constexpr Range kFlow{0.1, 20000, "l_s", 1};
constexpr Range kVelocity{0.01, 1, "m_s", 2};
constexpr Range kOpenShare{0.05, 0.95, "", 2};
constexpr Range kClogging{1, 10, "", 1};
constexpr Range kMesh{20, 10000, "um", 0};
constexpr Range kWire{10, 5000, "um", 0};

}  // namespace

Result<ScreenArea> screen_area(double flow_l_s, double approach_velocity_m_s, double open_share,
                               double clogging_factor) {
  TAWNY_REFUSE_OUTSIDE("flow_l_s", flow_l_s, kFlow);
  TAWNY_REFUSE_OUTSIDE("approach_velocity_m_s", approach_velocity_m_s, kVelocity);
  TAWNY_REFUSE_OUTSIDE("open_share", open_share, kOpenShare);
  TAWNY_REFUSE_OUTSIDE("clogging_factor", clogging_factor, kClogging);
  ScreenArea out;
  out.effective_m2 = flow_l_s / 1000 / approach_velocity_m_s;
  out.gross_m2 = out.effective_m2 * clogging_factor;
  out.slot_velocity_m_s = approach_velocity_m_s / open_share;
  out.slot_velocity_clean_m_s = out.slot_velocity_m_s / clogging_factor;
  return out;
}

Result<double> mesh_open_share(double mesh_um, double wire_um) {
  TAWNY_REFUSE_OUTSIDE("mesh_um", mesh_um, kMesh);
  TAWNY_REFUSE_OUTSIDE("wire_um", wire_um, kWire);
  const double side = mesh_um / (mesh_um + wire_um);
  return side * side;
}

}  // namespace tawny
