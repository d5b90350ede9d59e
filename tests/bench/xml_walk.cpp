// The floor of reading XML: parse a file in place and look once at each attribute of each element.
//   xml_walk FILE
#include <cstdio>
#include <filesystem>
#include <pugixml.hpp>
#include <string_view>
#include <vector>

namespace {

struct Walker : pugi::xml_tree_walker {
  std::size_t attributes = 0, bytes = 0;
  bool for_each(pugi::xml_node& node) override {
    for (const pugi::xml_attribute& attribute : node.attributes()) {
      ++attributes;
      bytes += std::string_view(attribute.name()).size() + std::string_view(attribute.value()).size();
    }
    return true;
  }
};

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2) return 2;
  std::vector<char> text(std::filesystem::file_size(argv[1]));
  std::FILE* const file = std::fopen(argv[1], "rb");
  if (file == nullptr || std::fread(text.data(), 1, text.size(), file) != text.size()) return 2;
  std::fclose(file);
  pugi::xml_document document;
  if (!document.load_buffer_inplace(text.data(), text.size())) return 2;
  Walker walker;
  document.traverse(walker);
  std::printf("%zu attributes, %zu bytes of names and values\n", walker.attributes, walker.bytes);
  return 0;
}
