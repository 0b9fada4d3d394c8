#error "model must not see xlsxwriter.h: DEVELOPERS.md, The rooms"
