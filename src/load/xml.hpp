#pragma once
#include "load/file.hpp"
#include "ringtrue/model/netlist_builder.hpp"

namespace ringtrue::load {

/// Reads the XML form of a netlist into the builder. It changes the file's bytes, and texts handed to the
/// builder are views into them.
///
/// Nothing is expanded but the five predefined entities and character references. Attributes of a record that
/// the file leaves out are as good as empty cells of a CSV file: the builder says which of them it needs.
/// Errors, all given to the builder: bad_xml (broken, cut short, an attribute twice, text between elements,
/// DOCTYPE, unknown entity), not_a_netlist (root or namespace), bad_text (another encoding declared),
/// unknown_column (an element or attribute that the form lacks, with the nearest names).
void read_netlist_xml(const FileText& file, NetlistBuilder& builder);

}  // namespace ringtrue::load
