// The kinds of entry and the keys of their values. One name, one meaning, for as long as logbooks live: a kind
// is never reused for something else, a key never changes its unit. A new kind or key is simply added here.
//
// Times inside values are ISO 8601 texts with Z. Enumerations are the texts listed. "opt" may be absent.
#pragma once

#include <string_view>

namespace tawny::kind {

// Set-up ------------------------------------------------------------------------------------------------------
// name (text), latitude_deg, longitude_deg, utc_offset_min, altitude_m (opt), demo (bool, opt),
// windows_by ("sun" | "clock", opt: sun)
inline constexpr std::string_view kFarmSetup = "farm_setup";
// pond = id. name, walk_order, build ("earthen" | "lined"), nominal_area_ha, inlets (texts), and either
// survey_level_cm + survey_area_m2 (numbers, same length) or bottom_length_m, bottom_width_m, depth_m,
// bank_slope; outline_length_m, outline_width_m (opt: for the lanes), stocking_level_cm (opt)
inline constexpr std::string_view kPondSetup = "pond_setup";
// bin_volume_l, fill_share, lift_kg, boat_load_kg, lane_spacing_m; the latest counts
inline constexpr std::string_view kBinSetup = "bin_setup";
// inlet (name, as in the pond's set-up), kind ("pump" | "gate" | "pipe"), and by kind: rate_l_s; width_m,
// opening_m, sill_level_cm; diameter_m, invert_level_cm. discharge_coefficient (opt: the protocol's),
// keeps_water (bool, opt: true): no water runs back out; pump (text, opt): the name of the pump or gate behind
// it where that serves several ponds. The latest of a pond's inlet counts
inline constexpr std::string_view kInletSetup = "inlet_setup";
// times (texts), levels_cm (numbers, same length, on the pond's gauge): high and low waters in order of time;
// pond empty: of every pond that has no table of its own. The latest counts
inline constexpr std::string_view kTideTable = "tide_table";
// product (id), bag_kg, price_per_kg (opt), in_use (bool): the farm's own products
inline constexpr std::string_view kProductSetup = "product_setup";
// person (text), role ("worker" | "technician" | "manager"): who holds the device that writes this entry;
// office (bool, opt: false): the device stands for the office and writes receipts
inline constexpr std::string_view kDeviceSetup = "device_setup";
// pond = id. role ("worker" | "technician" | "manager"), person (text, a name from a device_setup; empty:
// nobody any more): to whom the pond is given for that part of the work. The latest of a pond and role counts
inline constexpr std::string_view kPondPerson = "pond_person";
// boats, bin_crews, people (numbers, each opt: the protocol's): how many there are at once, for the plan; the
// latest counts
inline constexpr std::string_view kPlanSetup = "plan_setup";
// path (text, "stage.bloom.secchi_low_cm"), value (number, bool or text), from (time), reason (text);
// to_default (bool, opt): takes the own value back, so that a pond follows its farm again, and a farm the
// standard protocol; `value` is then what counted when it was written. pond empty: whole farm
inline constexpr std::string_view kProtocolChange = "protocol_change";

// Deliveries --------------------------------------------------------------------------------------------------
// pond = id (empty: not chosen yet). booking (random text), deliver_on ("2026-12-10", the farm's day),
// pl_count, cancelled (bool, opt), note (opt). The latest of a booking counts: moving or cancelling it is a new
// entry
inline constexpr std::string_view kPlBooking = "pl_booking";

// Stock and cost ----------------------------------------------------------------------------------------------
// product (id), product_kg, price_per_kg (opt), lot (text, opt), order (text, opt: the stock_order it belongs
// to)
inline constexpr std::string_view kStockDelivery = "stock_delivery";
// product, product_kg: all that was on hand at the observed time; what is reckoned goes on from there
inline constexpr std::string_view kStockCount = "stock_count";
// order (random text), product, product_kg, expected_on ("YYYY-MM-DD", the farm's day), cancelled (bool, opt);
// the latest of an order counts
inline constexpr std::string_view kStockOrder = "stock_order";
// currency (text), lead_days, production_cost_per_ha (of one cycle), each opt; the latest counts
inline constexpr std::string_view kCostSetup = "cost_setup";

// A pond's cycle ----------------------------------------------------------------------------------------------
// cycle (text label)
inline constexpr std::string_view kCycleStart = "cycle_start";
// reason (opt)
inline constexpr std::string_view kCycleEnd = "cycle_end";
// stage (number 1..10), reason (text): the manager opens this stage's gate by hand
inline constexpr std::string_view kGatePassed = "gate_passed";
// stage, reason: the manager holds the gate shut; a later gate_passed of the same stage lifts it
inline constexpr std::string_view kGateRefused = "gate_refused";
// signed: temperature etc. are read from the readings; decision ("release"), reason (opt)
inline constexpr std::string_view kReleaseSigned = "release_signed";
// question (reference of the entry it is about), keep, reason. Of the later of two doses: other (opt: reference
// of the first), keep "both" | "first" | "second". Of a reading: keep "reading" (it counts) | "none" (it counts
// for nothing); the latest word on a reading counts. Of a clock: keep "clock" (the times stand as they are),
// pond empty, from_number (opt: the first of the device's entries that it speaks for; else the entry alone)
inline constexpr std::string_view kQuestionSettled = "question_settled";

// Looks and readings ------------------------------------------------------------------------------------------
// any of do_mg_l, ph, temperature_c, salinity; do_bottom_mg_l, temperature_bottom_c (opt)
inline constexpr std::string_view kWaterReading = "water_reading";
// level_cm (on the gauge)
inline constexpr std::string_view kLevelReading = "level_reading";
// secchi_vanish_cm + secchi_return_cm, or seen_on_bottom (bool) with depth_at_disc_cm; depth_at_disc_cm (opt)
inline constexpr std::string_view kSecchiReading = "secchi_reading";
// colour (see protocol: clear, muddy, pale_gold, golden, golden_brown, light_green, green, dark_green,
// red_brown)
inline constexpr std::string_view kWaterColour = "water_colour";
// sky ("bright" | "mixed" | "dull")
inline constexpr std::string_view kSky = "sky";
// tan_mg_l and/or alkalinity_mg_l
inline constexpr std::string_view kWaterTest = "water_test";
// copepods_per_l (0 = none seen)
inline constexpr std::string_view kGrazerCount = "grazer_count";
// grabs, grabs_with_animals
inline constexpr std::string_view kBottomGrab = "bottom_grab";
// bivalves ("none" | "few" | "many"), predators ("none" | "seen")
inline constexpr std::string_view kPestLook = "pest_look";
// do_percent_in_air
inline constexpr std::string_view kMeterCheck = "meter_check";

// Acts --------------------------------------------------------------------------------------------------------
// thick_sludge ("none" | "some" | "much"), dried_days (number), treated_wet (bool, opt)
inline constexpr std::string_view kBottomLook = "bottom_look";
// product, product_kg: nitrate broadcast on the dry soil; cautions (opt, as in a walk's start)
inline constexpr std::string_view kSoilBroadcast = "soil_broadcast";
// inlet (text), mesh_um, whole (bool)
inline constexpr std::string_view kScreenCheck = "screen_check";
// colour (as water_colour): the source water at the intake
inline constexpr std::string_view kSourceLook = "source_look";
// position ("open" | "shut"); inlet (text, opt: all inlets)
inline constexpr std::string_view kInletMoved = "inlet_moved";
// reason (opt): water let out
inline constexpr std::string_view kOutflow = "outflow";

// The dose walk -----------------------------------------------------------------------------------------------
// The start holds the plan; each step a tick; the dose itself is recorded once, at the end. walk = random text.
// walk, product, rate_kg_ha, area_ha, area_counted ("nominal" | "surface"), product_kg, bins, salt_per_bin_kg
// (product per bin), water_per_bin_l, solution_per_bin_l, level_cm (opt), sky ("bright" | "mixed" | "dull"),
// cautions (texts, opt): ids of the cautions that were confirmed as read before the start ("caution.oxidizer")
inline constexpr std::string_view kDoseWalkStart = "dose_walk_start";
// walk, step ("mixed" | "spread"), bin (1..bins)
inline constexpr std::string_view kDoseStep = "dose_step";
// walk, reason (opt): the walk is broken off; what was spread stands as steps
inline constexpr std::string_view kDoseWalkStop = "dose_walk_stop";
// product, product_kg, bins, started (time), ended (time), coverage ("whole" | "part"), dissolved (bool), sky,
// rate_kg_ha, area_ha, nitrate_n_mg_l (opt), lot (opt), walk (opt). Here, in a walk's start and in a
// soil_broadcast: manager_override (true, opt) + reason: the manager's word for what the protocol refuses
inline constexpr std::string_view kDose = "dose";

// Keys and admission ------------------------------------------------------------------------------------------
// public_key (130 hexadecimal digits): the device's key, see device_key.h; its hash is in the device's id
inline constexpr std::string_view kDeviceKey = "device_key";
// signature (128 hexadecimal digits): by the device's key over the hash of the entry before this one
inline constexpr std::string_view kChainSigned = "chain_signed";
// These two speak about the chain and count in nothing else.
inline constexpr bool is_of_chain(std::string_view kind) { return kind == kDeviceKey || kind == kChainSigned; }
// device (id), office (bool, opt: false), office_from_number (number, opt: 1): the farm takes the device's
// entries; with office, its decisions from that number on
inline constexpr std::string_view kDeviceAdmitted = "device_admitted";
// device (id), last_number (number, 0: none), from (time), reason (text): entries beyond last_number count for
// nothing
inline constexpr std::string_view kDeviceRevoked = "device_revoked";

// About other entries -----------------------------------------------------------------------------------------
// header "voids" names the entry; reason (opt)
inline constexpr std::string_view kVoid = "void";
// devices (texts), numbers (numbers), hashes (texts of 16 digits), all of the same length: an office holds the
// device's entries 1..number without a gap, the last of them with that hash (see receipts.h)
inline constexpr std::string_view kOfficeReceipt = "office_receipt";
// text
inline constexpr std::string_view kNote = "note";

}  // namespace tawny::kind
