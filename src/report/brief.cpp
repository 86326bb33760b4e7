#include "report/head.hpp"

namespace report {

std::string brief(const Report& report) {
    std::string text;
    for (const rules::Finding* finding : grouped(report)) {
        text += first_line(*finding, Colour::no) + '\n';
    }
    return text;
}

} // namespace report
