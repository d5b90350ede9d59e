#pragma once
/// Everything that a program needs to load a panel, check its drawing, trace and draw its channels, plan and
/// compare readings, name the faults, power it up in steps, test its inputs and analog channels, say what a
/// revision leaves proven, keep all of it in a job, and write its netlist.
#include "ringtrue/check/check.hpp"
#include "ringtrue/compare/compare.hpp"
#include "ringtrue/diagnose/diagnose.hpp"
#include "ringtrue/graph/graph.hpp"
#include "ringtrue/graph/trace.hpp"
#include "ringtrue/io/analog.hpp"
#include "ringtrue/io/input_test.hpp"
#include "ringtrue/job/job.hpp"
#include "ringtrue/load/load.hpp"
#include "ringtrue/picture/path_picture.hpp"
#include "ringtrue/plan/plan.hpp"
#include "ringtrue/power/before.hpp"
#include "ringtrue/power/locate.hpp"
#include "ringtrue/power/power_up.hpp"
#include "ringtrue/revise/carry_over.hpp"
#include "ringtrue/revise/retest.hpp"
#include "ringtrue/write/write.hpp"
