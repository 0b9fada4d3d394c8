#error "yard must not see xlsxwriter.h: DEVELOPERS.md, The rooms"
