#include "verbs.hpp"

namespace ringtrue::cli {

std::span<const Verb> verbs() {
  static constexpr Verb k_verbs[] = {
      {"check", "Check the drawing against itself before it is released.",
       "ringtrue check netlists/grain-dryer", declare_check},
      {"trace", "Follow each PLC channel to its field terminal and back, element by element.",
       "ringtrue trace netlists/quickstart HOPPER_FULL", declare_trace},
      {"expect", "Say what a meter must show between two points, and why.",
       "ringtrue expect netlists/quickstart K1:11 K1:14 --when K1=operated", declare_expect},
      {"plan", "Plan the fewest readings that prove the wiring, and in which order to take them.",
       "ringtrue plan netlists/quickstart", declare_plan},
      {"compare", "Judge readings against the drawing, name the faults, say what is proven.",
       "ringtrue compare netlists/quickstart netlists/quickstart/readings.csv", declare_compare},
      {"next", "Choose the reading that best tells apart what the readings so far leave open.",
       "ringtrue next netlists/grain-dryer netlists/grain-dryer/readings.csv", declare_next},
      {"log", "Log readings into a job as fast as two probes move, and say at once what is wrong.",
       "ringtrue log quickstart.rtj --new netlists/quickstart", declare_log},
      {"serve", "Serve the bench page: log readings on a phone or tablet at the panel.",
       "ringtrue serve quickstart.rtj --new netlists/quickstart", declare_serve},
      {"energise", "Write the power-up sheet: what to switch on in which order, what to measure and expect.",
       "ringtrue energise netlists/grain-dryer", declare_energise},
      {"jumper",
       "Say how each input is tested: which two terminals, what must light, whether a jumper may be fitted.",
       "ringtrue jumper netlists/quickstart HOPPER_FULL", declare_jumper},
      {"analog", "Say what to feed each analog input, what each output must give, and judge what was seen.",
       "ringtrue analog netlists/grain-dryer PLENUM_TEMPERATURE", declare_analog},
      {"drive", "Drive outputs through the logic: which inputs to set, in which order, and what responds.",
       "ringtrue drive netlists/grain-dryer AUGER_FORWARD", declare_drive},
      {"locate", "Find where the path of a dark input breaks, by the fewest voltages.",
       "ringtrue locate netlists/grain-dryer GAS_PRESSURE --volts G1:+=24.1", declare_locate},
      {"record", "Write the record of a job: what was tested and what was not, the punch list, who signs.",
       "ringtrue record quickstart.rtj quickstart-record", declare_record},
      {"convert", "Write a netlist in another form: XML, or a folder of CSV files.",
       "ringtrue convert netlists/grain-dryer grain-dryer.xml", declare_convert},
      {"retest", "Put two revisions side by side: what stays proven, and the fewest readings for the rest.",
       "ringtrue retest netlists/quickstart netlists/quickstart-b netlists/quickstart/readings-good.csv",
       declare_retest},
      {"job", "Keep a panel's netlist, readings, events and I/O results in one file that loses nothing.",
       "ringtrue job new quickstart.rtj netlists/quickstart --readings netlists/quickstart/readings.csv",
       declare_job},
  };
  return k_verbs;
}

}  // namespace ringtrue::cli
