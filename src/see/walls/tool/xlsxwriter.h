#error "tool must not see xlsxwriter.h: DEVELOPERS.md, The rooms"
