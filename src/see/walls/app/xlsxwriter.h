#error "app must not see xlsxwriter.h: DEVELOPERS.md, The rooms"
